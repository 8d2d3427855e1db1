"""A drawing as a PNG picture, made without a screen. Pillow draws hard edges, so it draws large and is shrunk."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from io import BytesIO
from itertools import pairwise
from typing import Any

from panelgen.drawing.looks import LOOKS, Colour, Neutral, Paint
from panelgen.drawing.page import Area, Disc, Drawing, Line, Text
from panelgen.geometry.frames import Point2
from panelgen.model.palette import Rgb

__all__ = ["write_png"]

_FINER = 3
_NEUTRALS: dict[Neutral, Rgb] = {"ink": (26, 26, 26), "soft": (107, 107, 107), "paper": (255, 255, 255)}
_SHORTEST = 1e-9


def write_png(drawing: Drawing, scale: float = 1.25) -> bytes:
    """The drawing on white paper, `scale` pixels of the picture to one of the page."""
    from PIL import Image

    size = (math.ceil(drawing.width * scale), math.ceil(drawing.height * scale))
    image = Image.new("RGB", (size[0] * _FINER, size[1] * _FINER), _NEUTRALS["paper"])
    _Pen(image, scale * _FINER).draw(drawing)
    file = BytesIO()
    image.reduce(_FINER).save(file, "PNG", compress_level=6)
    return file.getvalue()


class _Pen:
    """Draws shapes of a page on an image, `scale` image pixels to one of the page."""

    def __init__(self, image: Any, scale: float) -> None:
        from PIL import ImageDraw

        self._image = image
        self._scale = scale
        self._draw = ImageDraw.Draw(image)
        self._fonts: dict[Paint, Any] = {}

    def draw(self, drawing: Drawing) -> None:
        for shape in drawing.shapes:
            paint = LOOKS[shape.look]
            match shape:
                case Area(rings):
                    self._area([self._scaled(ring) for ring in rings], paint)
                case Line(points):
                    self._stroke(self._scaled(points), paint)
                case Disc(centre, radius):
                    self._disc(self._scaled([centre])[0], radius * self._scale, paint)
                case Text(at, words, _, anchor):
                    self._text(self._scaled([at])[0], words, anchor, paint)

    def _scaled(self, points: Iterable[Point2]) -> list[Point2]:
        return [(x * self._scale, y * self._scale) for x, y in points]

    def _area(self, rings: Sequence[list[Point2]], paint: Paint) -> None:
        if paint.fill is not None:
            self._fill(rings, _rgb(paint.fill), paint.opacity)
        for ring in rings:
            self._stroke([*ring, ring[0]], paint)

    def _fill(self, rings: Sequence[list[Point2]], colour: Rgb, opacity: float) -> None:
        """Through a mask no larger than the area, in which cut-outs are left clear."""
        from PIL import Image, ImageDraw

        left, top = (math.floor(min(point[k] for point in rings[0])) for k in (0, 1))
        right, bottom = (math.ceil(max(point[k] for point in rings[0])) + 1 for k in (0, 1))
        mask = Image.new("L", (max(1, right - left), max(1, bottom - top)), 0)
        pen = ImageDraw.Draw(mask)
        for number, ring in enumerate(rings):
            pen.polygon([(x - left, y - top) for x, y in ring], fill=0 if number else round(255 * opacity))
        self._image.paste(colour, (left, top), mask)

    def _stroke(self, points: Sequence[Point2], paint: Paint) -> None:
        if paint.stroke is None:
            return
        width = max(1, round(paint.width * self._scale))
        colour = _rgb(paint.stroke)
        for piece in _dashes(points, [length * self._scale for length in paint.dash]):
            self._draw.line(piece, fill=colour, width=width, joint="curve")
        if paint.is_round:
            for x, y in (points[0], points[-1]):
                half = width / 2
                self._draw.ellipse((x - half, y - half, x + half, y + half), fill=colour)

    def _disc(self, centre: Point2, radius: float, paint: Paint) -> None:
        (x, y), half = centre, paint.width * self._scale / 2 if paint.stroke is not None else 0.0
        reach = radius + half
        self._draw.ellipse(
            (x - reach, y - reach, x + reach, y + reach),
            fill=None if paint.fill is None else _rgb(paint.fill),
            outline=None if paint.stroke is None else _rgb(paint.stroke),
            width=round(2 * half),
        )

    def _text(self, at: Point2, words: str, anchor: str, paint: Paint) -> None:
        self._draw.text(
            at,
            words,
            fill=_rgb(paint.fill or "ink"),
            font=self._font(paint),
            anchor={"start": "lm", "middle": "mm", "end": "rm"}[anchor],
            stroke_width=round(paint.width * self._scale / 2) if paint.stroke is not None else 0,
            stroke_fill=_rgb(paint.stroke or "paper"),
        )

    def _font(self, paint: Paint) -> Any:
        """Pillow's own typeface, the same on every machine."""
        from PIL import ImageFont

        if paint not in self._fonts:
            self._fonts[paint] = ImageFont.load_default(paint.size * self._scale)
        return self._fonts[paint]


def _rgb(colour: Colour) -> Rgb:
    return _NEUTRALS[colour] if isinstance(colour, str) else colour


def _dashes(points: Sequence[Point2], dash: Sequence[float]) -> list[list[Point2]]:
    """The drawn pieces of a line: all of it where `dash` (drawn, left out, drawn, …) is empty."""
    if not dash:
        return [list(points)]
    pieces: list[list[Point2]] = []
    number, left = 0, dash[0]
    piece = [points[0]]
    for (x, y), (u, v) in pairwise(points):
        length = math.dist((x, y), (u, v))
        done = 0.0
        while length - done > left + _SHORTEST:
            done += left
            at = (x + (u - x) * done / length, y + (v - y) * done / length)
            if number % 2 == 0:
                pieces.append([*piece, at])
            piece = [at]
            number += 1
            left = dash[number % len(dash)]
        left -= length - done
        piece.append((u, v))
    return [*pieces, piece] if number % 2 == 0 else pieces
