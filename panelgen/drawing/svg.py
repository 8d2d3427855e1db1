"""A drawing as SVG text. Everything a user wrote is escaped; nothing outside the text is referred to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from html import escape
from itertools import groupby

from panelgen.drawing.looks import LOOKS, Colour, Look, Paint
from panelgen.drawing.page import Area, Disc, Drawing, Line, Shape, Text
from panelgen.geometry.frames import Point2

__all__ = ["looks_css", "swatch", "write_svg"]

_XMLNS = "http://www.w3.org/2000/svg"
_NEUTRALS: Mapping[str, str] = {"ink": "#1a1a1a", "soft": "#6b6b6b", "paper": "#ffffff"}
_FONT = 'ui-sans-serif,system-ui,"Segoe UI",Roboto,"Helvetica Neue",Arial,sans-serif'
_SWATCH = (34.0, 16.0)


def write_svg(drawing: Drawing, id: str, *, is_inline: bool = False) -> str:
    """The drawing as one ``svg`` element, with title and description for those who cannot see it.

    `id` must be unique in the document. `is_inline` leaves out the style and the namespace, for an HTML page
    that holds `looks_css` itself.
    """
    width, height = _number(drawing.width), _number(drawing.height)
    names = f'role="img" aria-labelledby="{escape(id)}-t {escape(id)}-d"'
    head = f'width="{width}" height="{height}" viewBox="0 0 {width} {height}" {names}'
    if not is_inline:
        head = f'xmlns="{_XMLNS}" {head}'
    return "".join(
        (
            f'<svg class="picture" {head}>',
            f'<title id="{escape(id)}-t">{escape(drawing.title)}</title>',
            f'<desc id="{escape(id)}-d">{escape(drawing.alt)}</desc>',
            "" if is_inline else f"<style>{looks_css()}</style>",
            *_elements(drawing.shapes),
            "</svg>",
        )
    )


def swatch(look: Look) -> str:
    """A small sample of a look for the key to a picture, hidden from those who hear the words beside it."""
    width, height = _SWATCH
    middle = (width / 2, height / 2)
    box = ((2.0, 3.0), (width - 2, 3.0), (width - 2, height - 3), (2.0, height - 3))
    shape = Disc(middle, height / 2 - 2, look) if look in (Look.SPOT, Look.SLEEVE) else Area((box,), look)
    inside = "".join(_elements((shape,)))
    return f'<svg class="picture swatch" viewBox="0 0 {width:g} {height:g}" aria-hidden="true">{inside}</svg>'


def looks_css() -> str:
    """One rule a look. The neutrals can be set from outside as ``--ink``, ``--soft`` and ``--paper``."""
    rules = "".join(f".picture .{look}{{{_declarations(paint)}}}" for look, paint in LOOKS.items())
    return f".picture{{font-family:{_FONT};background:{_css('paper')}}}.picture path{{stroke-linejoin:round}}{rules}"


def _declarations(paint: Paint) -> str:
    parts = [f"fill:{_css(paint.fill)}" if paint.fill else "fill:none"]
    if paint.opacity != 1.0:
        parts.append(f"fill-opacity:{paint.opacity:g}")
    if paint.stroke:
        parts.append(f"stroke:{_css(paint.stroke)};stroke-width:{paint.width:g}px")
    if paint.dash:
        parts.append(f"stroke-dasharray:{','.join(f'{length:g}' for length in paint.dash)}")
    if paint.is_round:
        parts.append("stroke-linecap:round")
    if paint.size:
        weight = 700 if paint.bold else 400
        parts.append(f"font-size:{paint.size:g}px;font-weight:{weight};paint-order:stroke;dominant-baseline:central")
    return ";".join(parts)


def _css(colour: Colour) -> str:
    if isinstance(colour, str):
        return f"var(--{colour},{_NEUTRALS[colour]})"
    return "#{:02x}{:02x}{:02x}".format(*colour)


def _elements(shapes: Iterable[Shape]) -> Iterator[str]:
    """Lines and areas that follow one another in the same look are one path."""
    for (look, is_path), run in groupby(shapes, key=lambda shape: (shape.look, isinstance(shape, Area | Line))):
        if is_path:
            data = "".join(_path(shape) for shape in run if isinstance(shape, Area | Line))
            yield f'<path class="{look}" d="{data}"/>'
        else:
            yield from (_element(shape) for shape in run)


def _path(shape: Area | Line) -> str:
    if isinstance(shape, Line):
        return _polyline(shape.points)
    return "".join(f"{_polyline(ring)}z" for ring in shape.rings)


def _polyline(points: tuple[Point2, ...]) -> str:
    return "M" + "L".join(f"{_number(x)} {_number(y)}" for x, y in points)


def _element(shape: Shape) -> str:
    match shape:
        case Disc((x, y), radius, look):
            return f'<circle class="{look}" cx="{_number(x)}" cy="{_number(y)}" r="{_number(radius)}"/>'
        case Text((x, y), words, look, anchor):
            place = f'x="{_number(x)}" y="{_number(y)}" text-anchor="{anchor}"'
            return f'<text class="{look}" {place}>{escape(words)}</text>'
    raise TypeError(f"not a shape: {shape!r}")


def _number(value: float) -> str:
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")
