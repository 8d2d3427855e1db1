"""Rings around the spots, numbers beside them, and the names of the parts involved."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import shapely

from panelgen.drawing.labels import Placed, Wish, place_labels
from panelgen.drawing.looks import LOOKS, Look
from panelgen.drawing.page import Disc, Line, Rectangle, Shape, Text
from panelgen.drawing.silhouettes import Silhouette
from panelgen.geometry.frames import Floats, Point2

__all__ = ["Spot", "draw_marks", "number_words", "text_width"]

_RING = 8.0
_TOGETHER = 10.0
_BADGE = 9.5
_DIGIT = 6.6
_CHARACTER = 7.4
_LONGEST = 28
_MOST_NAMES = 12
_ASIDE = 8.0
_DOT = 2.2


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on a panel, mm, and the number under which a table tells more of it."""

    number: int
    x: float
    y: float


def draw_marks(
    involved: Sequence[Silhouette], spots: Sequence[Spot], on_page: Callable[[float, float], Point2], free: Rectangle
) -> Iterator[Shape]:
    """The marks of a picture. Spots that fall together on the page share a ring and a number like ``1–3, 7``.

    `on_page` takes panel coordinates to the page; labels stay inside `free`. A ring is always drawn; a number
    or a name that finds no room is not.
    """
    rings = _rings(spots, on_page)
    around = [_box(centre, _RING) for centre, _ in rings]
    badges = place_labels([_badge_wish(centre, words) for centre, words in rings], free, around)
    taken = [*around, *(place.rectangle for place in badges if place is not None)]
    names = _names(involved, taken, on_page)
    labels = place_labels(
        [Wish(at, text_width(words), LOOKS[Look.LABEL].size + 4.0) for at, words in names], free, taken
    )
    for centre, _ in rings:
        yield Disc(centre, _RING, Look.HALO)
        yield Disc(centre, _RING, Look.SPOT)
    for (_, words), place in zip(names, labels, strict=True):
        if place is not None:
            yield from _label(words, place)
    for (_, words), place in zip(rings, badges, strict=True):
        if place is not None:
            yield from _badge(words, place)


def number_words(numbers: Iterable[int]) -> str:
    """Numbers in order, neighbours drawn together: ``1–3, 7``."""
    rows: list[list[int]] = []
    for number in sorted(numbers):
        if rows and number == rows[-1][-1] + 1:
            rows[-1].append(number)
        else:
            rows.append([number])
    return ", ".join(f"{row[0]}" if len(row) == 1 else f"{row[0]}–{row[-1]}" for row in rows)


def text_width(words: str) -> float:
    """Room for words in the size of labels, px: enough for the wider of the typefaces a viewer may use."""
    return len(words) * _CHARACTER + 4.0


def _rings(spots: Sequence[Spot], on_page: Callable[[float, float], Point2]) -> list[tuple[Point2, str]]:
    """Where rings stand, and the numbers of the spots in each."""
    rings: list[tuple[Point2, list[int]]] = []
    for spot in spots:
        at = on_page(spot.x, spot.y)
        near = next((numbers for centre, numbers in rings if math.dist(centre, at) < _TOGETHER), None)
        if near is None:
            rings.append((at, [spot.number]))
        else:
            near.append(spot.number)
    return [(centre, number_words(numbers)) for centre, numbers in rings]


def _names(
    involved: Sequence[Silhouette], taken: Sequence[Rectangle], on_page: Callable[[float, float], Point2]
) -> list[tuple[Point2, str]]:
    """What each part is called, and the point at which its leader is to end: on it alone, where that can be."""
    marked = {part.mark: part for part in reversed(involved) if part.mark}
    areas = {mark: shapely.transform(part.area, _to_page(on_page)) for mark, part in reversed(marked.items())}
    first = shapely.box(*taken[0]) if taken else None
    away = shapely.union_all([shapely.box(*box).buffer(_ASIDE) for box in taken])
    names: list[tuple[Point2, str]] = []
    for mark, area in list(areas.items())[:_MOST_NAMES]:
        smaller = shapely.union_all([other for other in areas.values() if other.area < area.area])
        at = _pointed_at(area, away.union(smaller), first)
        away = away.union(shapely.box(*_box(at, _ASIDE)))
        names.append((at, _shortened(mark)))
    return names


def _to_page(on_page: Callable[[float, float], Point2]) -> Callable[[Floats], list[Point2]]:
    return lambda points: [on_page(x, y) for x, y in points]


def _pointed_at(area: Any, away: Any, near: Any) -> Point2:
    """A point of an area outside `away` where it can be, on the piece nearest to `near`."""
    rest = area.difference(away)
    pieces = shapely.get_parts(area if rest.is_empty else rest)
    target = area if near is None else near
    point = min(pieces, key=lambda piece: piece.distance(target)).representative_point()
    return (float(point.x), float(point.y))


def _box(centre: Point2, reach: float) -> Rectangle:
    x, y = centre
    return (x - reach, y - reach, x + reach, y + reach)


def _badge_wish(centre: Point2, words: str) -> Wish:
    return Wish(centre, max(2 * _BADGE, len(words) * _DIGIT + _BADGE), 2 * _BADGE, _RING)


def _badge(words: str, place: Placed) -> Iterator[Shape]:
    left, top, right, bottom = place.rectangle
    middle = (top + bottom) / 2
    yield Line(place.leader, Look.LEADER)
    yield Line(((left + _BADGE, middle), (right - _BADGE, middle)), Look.BADGE)
    yield Text(place.centre, words, Look.NUMBER, "middle")


def _label(words: str, place: Placed) -> Iterator[Shape]:
    yield Line(place.leader, Look.LEADER)
    yield Disc(place.leader[0], _DOT, Look.DOT)
    yield Text(place.centre, words, Look.LABEL, "middle")


def _shortened(words: str) -> str:
    return words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"
