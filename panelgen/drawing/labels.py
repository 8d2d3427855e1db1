"""Where words stand on a page: beside what they name, and never on one another.

Greedy and deterministic: wishes are met in order, each at the nearest free place around its anchor. A wish
that finds none is left out; whatever it would have said must be readable elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from panelgen.drawing.page import Rectangle
from panelgen.geometry.frames import Point2

__all__ = ["Placed", "Wish", "overlap", "place_labels"]

_STEP = 12.0
_STEPS = 24
_DIRECTIONS = tuple(
    math.radians(angle) for angle in (-45, -135, 45, 135, -20, 200, -90, 90, 20, 160, 0, 180, -70, -110)
)
_GAP = 3.0


@dataclass(frozen=True, slots=True)
class Wish:
    """A label of `width` by `height` for what is at `anchor`, no nearer to it than `clear`."""

    anchor: Point2
    width: float
    height: float
    clear: float = 0.0


@dataclass(frozen=True, slots=True)
class Placed:
    """The rectangle of a label, and its leader: from `clear` beside the anchor to the middle of the nearest side."""

    rectangle: Rectangle
    leader: tuple[Point2, Point2]

    @property
    def centre(self) -> Point2:
        """Middle of the label."""
        left, top, right, bottom = self.rectangle
        return ((left + right) / 2, (top + bottom) / 2)


def place_labels(
    wishes: Sequence[Wish], page: Rectangle, blocked: Sequence[Rectangle] = ()
) -> tuple[Placed | None, ...]:
    """A place for each wish inside `page`, clear of `blocked` and of the labels and leaders before it."""
    taken = list(blocked)
    leaders: list[tuple[Point2, Point2]] = []
    found: list[Placed | None] = []
    for wish in wishes:
        place = next((one for one in _candidates(wish) if _is_free(one, page, taken, leaders)), None)
        if place is not None:
            taken.append(place.rectangle)
            leaders.append(place.leader)
        found.append(place)
    return tuple(found)


def overlap(a: Rectangle, b: Rectangle, gap: float = 0.0) -> bool:
    """Whether two rectangles come nearer than `gap` to each other along x and y both."""
    return a[0] < b[2] + gap and b[0] < a[2] + gap and a[1] < b[3] + gap and b[1] < a[3] + gap


def _candidates(wish: Wish) -> Iterator[Placed]:
    """Around the anchor, ring by ring outward."""
    for step in range(1, _STEPS + 1):
        for angle in _DIRECTIONS:
            yield _placed(wish, wish.clear + _STEP * step, angle)


def _placed(wish: Wish, distance: float, angle: float) -> Placed:
    (x, y), dx, dy = wish.anchor, math.cos(angle), math.sin(angle)
    centre = (x + dx * (distance + wish.width / 2), y + dy * (distance + wish.height / 2))
    half = (wish.width / 2, wish.height / 2)
    box = (centre[0] - half[0], centre[1] - half[1], centre[0] + half[0], centre[1] + half[1])
    sides = ((box[0], centre[1]), (box[2], centre[1]), (centre[0], box[1]), (centre[0], box[3]))
    end = min(sides, key=lambda side: math.dist(side, wish.anchor))
    length = math.dist(wish.anchor, end)
    share = min(1.0, wish.clear / length) if length else 1.0
    start = (x + share * (end[0] - x), y + share * (end[1] - y))
    return Placed(box, (start, end))


def _is_free(
    place: Placed, page: Rectangle, taken: Sequence[Rectangle], leaders: Sequence[tuple[Point2, Point2]]
) -> bool:
    box = place.rectangle
    if box[0] < page[0] or box[1] < page[1] or box[2] > page[2] or box[3] > page[3]:
        return False
    if any(overlap(box, other, _GAP) for other in taken):
        return False
    return not any(_crosses(place.leader, other) for other in taken) and not any(
        _crosses(leader, box) for leader in leaders
    )


def _crosses(line: tuple[Point2, Point2], box: Rectangle) -> bool:
    """Whether a straight line passes through the inside of a rectangle (Liang and Barsky's clipping)."""
    (x, y), (u, v) = line
    low, high = 0.0, 1.0
    for start, step, near, far in ((x, u - x, box[0], box[2]), (y, v - y, box[1], box[3])):
        if step == 0.0:
            if not near < start < far:
                return False
            continue
        first, last = sorted(((near - start) / step, (far - start) / step))
        low, high = max(low, first), min(high, last)
    return low < high
