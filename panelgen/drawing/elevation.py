"""A panel seen square to it, looking through its sheets, with the parts and the spots that matter marked."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import shapely

from panelgen.drawing.looks import Look
from panelgen.drawing.marks import Spot, draw_marks, text_width
from panelgen.drawing.page import Area, Drawing, Line, Rectangle, Shape, Text
from panelgen.drawing.silhouettes import Silhouette, silhouettes
from panelgen.geometry.frames import Point2
from panelgen.model import Panel, PanelKind
from panelgen.units import MM_PER_FOOT, MM_PER_INCH, format_feet_inches, format_length

__all__ = ["View", "draw_elevation"]

_SIDE, _TOP, _BOTTOM = 28.0, 34.0, 40.0
_BEYOND = 60.0
_BESIDE = 120.0
_BARS = (MM_PER_INCH, 3 * MM_PER_INCH, 6 * MM_PER_INCH, *(feet * MM_PER_FOOT for feet in (1, 2, 4, 8)))
_LONGEST_BAR = 0.3
_TICK = 4.0
_INVOLVED_AS = {Look.OUTER: Look.EDGE, Look.INNER: Look.EDGE, Look.OPENING: Look.EDGE}
"""Large things that others lie in: of those involved only the edge is marked."""


@dataclass(frozen=True, slots=True)
class View:
    """What is drawn and how large.

    The drawing fits into `width` by `height` pixels. `window` is a part of the panel (x0, y0, x1, y1), mm,
    to see from near; without it the whole panel is drawn. `from_room` turns it around: x runs to the left.
    """

    width: float = 640.0
    height: float = 480.0
    window: Rectangle | None = None
    from_room: bool = False


def draw_elevation(
    panel: Panel, involved: Collection[str] = (), spots: Sequence[Spot] = (), view: View | None = None
) -> Drawing:
    """`panel` from the weather side (or the room), the parts with an id in `involved` and the `spots` marked.

    The whole panel is drawn with as much around it as shows spots beside it too. Ids that the panel does not
    have and spots outside the window, or farther off than the panel is large, are passed over. Labels keep
    clear of one another; those that find no place are left out.
    """
    view = view or View()
    page = _Page.fitting(panel, spots, view)
    seen = _cut(silhouettes(panel, involved), page.clip)
    mine = [part for part in seen if part.id in involved]
    near = [spot for spot in spots if page.shows(spot)]
    shapes = (
        *(shape for part in seen if not _is_recoloured(part, involved) for shape in _drawn(part, page)),
        *(shape for part in mine for shape in _areas(part.area, _INVOLVED_AS.get(part.look, Look.INVOLVED), page)),
        *(_frame(page) if view.window else ()),
        *draw_marks(mine, near, page.point, page.free),
        *_scale_bar(page),
    )
    caption = Text((_SIDE, _TOP / 2), _caption(panel, view), Look.CAPTION)
    title = f"Panel {panel.label}{', close-up' if view.window else ''}, seen from {_side(panel, view)}"
    return Drawing(page.width, page.height, (*shapes, caption), title, _alt(title, mine, near))


@dataclass(frozen=True, slots=True)
class _Page:
    """How panel coordinates come to stand on a page of pixels."""

    window: Rectangle
    clip: Rectangle
    scale: float
    width: float
    height: float
    turned: bool

    @classmethod
    def fitting(cls, panel: Panel, spots: Iterable[Spot], view: View) -> _Page:
        window = view.window or _surroundings(panel, spots)
        beyond = 0.0 if view.window else _BEYOND
        x0, y0, x1, y1 = window
        clip = (x0 - beyond, y0 - beyond, x1 + beyond, y1 + beyond)
        scale = min((view.width - 2 * _SIDE) / (x1 - x0), (view.height - _TOP - _BOTTOM) / (y1 - y0))
        width = max(text_width(_caption(panel, view)), (x1 - x0) * scale) + 2 * _SIDE
        return cls(window, clip, scale, width, (y1 - y0) * scale + _TOP + _BOTTOM, view.from_room)

    @property
    def free(self) -> Rectangle:
        """Where labels may stand: anywhere but on the caption and the scale bar."""
        return (3.0, _TOP - 6.0, self.width - 3.0, self.height - _BOTTOM + 8.0)

    def point(self, x: float, y: float) -> Point2:
        """A point of the panel, mm, on the page."""
        x0, _, x1, y1 = self.window
        along = x1 - x if self.turned else x - x0
        margin = (self.width - (x1 - x0) * self.scale) / 2
        return (margin + along * self.scale, _TOP + (y1 - y) * self.scale)

    def shows(self, spot: Spot) -> bool:
        """Whether a spot is on the part of the panel that is drawn."""
        x0, y0, x1, y1 = self.clip
        return x0 <= spot.x <= x1 and y0 <= spot.y <= y1


def _surroundings(panel: Panel, spots: Iterable[Spot]) -> Rectangle:
    """The panel, and the spots beside it that are no farther off than it is large, with a little around them."""
    far = max(panel.length, panel.height)
    xs, ys = [0.0, panel.length], [0.0, panel.height]
    for spot in spots:
        off = max(-spot.x, spot.x - panel.length, -spot.y, spot.y - panel.height)
        if 0.0 < off <= far:
            xs += [spot.x - _BESIDE, spot.x + _BESIDE]
            ys += [spot.y - _BESIDE, spot.y + _BESIDE]
    return (min(xs), min(ys), max(xs), max(ys))


def _side(panel: Panel, view: View) -> str:
    if panel.kind in (PanelKind.FLOOR, PanelKind.CEILING):
        return "below" if view.from_room else "above"
    return "the room" if view.from_room else "the weather side"


def _caption(panel: Panel, view: View) -> str:
    return f"{'Close-up' if view.window else panel.label} from {_side(panel, view)}"


def _cut(parts: Sequence[Silhouette], clip: Rectangle) -> list[Silhouette]:
    """The parts as far as they lie in a rectangle; what only touches it is left out."""
    areas = shapely.intersection([part.area for part in parts], shapely.box(*clip))
    return [replace(part, area=kept) for part, area in zip(parts, areas, strict=True) if (kept := _flat(area)).area]


def _flat(area: Any) -> Any:
    """An area without the lines and points in which parts may touch."""
    if area.geom_type == "GeometryCollection":
        return shapely.multipolygons([piece for piece in shapely.get_parts(area) if piece.geom_type == "Polygon"])
    return area


def _is_recoloured(part: Silhouette, involved: Collection[str]) -> bool:
    """Services are filled, so one that is involved is drawn in its new colour alone."""
    return part.id in involved and part.look in (Look.RUN, Look.BOX)


def _drawn(part: Silhouette, page: _Page) -> Iterator[Shape]:
    yield from _areas(part.area, part.look, page)
    if part.look is Look.OPENING:
        x0, y0, x1, y1 = part.area.bounds
        for ends in (((x0, y0), (x1, y1)), ((x0, y1), (x1, y0))):
            yield Line(tuple(page.point(x, y) for x, y in ends), Look.CROSS)


def _areas(area: Any, look: Look, page: _Page) -> Iterator[Area]:
    for piece in shapely.get_parts(shapely.orient_polygons(area)):
        rings = (piece.exterior, *piece.interiors)
        yield Area(tuple(tuple(page.point(x, y) for x, y in ring.coords[:-1]) for ring in rings), look)


def _frame(page: _Page) -> Iterator[Shape]:
    x0, y0, x1, y1 = page.window
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    yield Area((tuple(page.point(x, y) for x, y in corners),), Look.FRAME)


def _scale_bar(page: _Page) -> Iterator[Shape]:
    """The longest round length that takes no more than a part of the page's width."""
    length = max((bar for bar in _BARS if bar * page.scale <= _LONGEST_BAR * page.width), default=_BARS[0])
    left, right, y = _SIDE, _SIDE + length * page.scale, page.height - _BOTTOM / 2
    yield Line(((left, y - _TICK), (left, y), (right, y), (right, y - _TICK)), Look.RULE)
    size = format_feet_inches(length) if length >= MM_PER_FOOT else format_length(length, "in")
    yield Text((right + 8.0, y), f"{size} ({length:.0f} mm)", Look.LABEL)


def _alt(title: str, involved: Sequence[Silhouette], spots: Sequence[Spot]) -> str:
    marks = ", ".join(dict.fromkeys(part.mark for part in involved if part.mark))
    places = "; ".join(f"spot {spot.number} at {spot.x:.0f} mm along and {spot.y:.0f} mm up" for spot in spots)
    return ". ".join(filter(None, (title, marks and f"Parts involved: {marks}", places.capitalize()))) + "."
