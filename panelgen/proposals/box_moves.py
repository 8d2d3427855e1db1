"""Ways to move a box out of a clash, with the ends of the runs that belong to it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from panelgen.geometry.frames import Vec3, dot
from panelgen.model import Change
from panelgen.proposals.courses import Course, course_of, is_at_box
from panelgen.proposals.moves import end_moved, shifted
from panelgen.proposals.options import Option, ways
from panelgen.proposals.standing import Standing
from panelgen.proposals.steps import distances, grid_of

__all__ = ["box_moves"]

_FARTHEST = 610.0
"""mm. No box moves farther than this: a switch belongs beside its door. Common practice, no source."""

_DECIMALS = 6
_EPS = 1e-6


def box_moves(standing: Standing, place: int) -> Iterator[Option]:
    """Options for box `place` of the spec, in no order: along the wall and up it."""
    box = standing.spec.boxes[place]
    ends = list(_ends_at(standing, place))
    for length in distances(grid_of(standing.spec.unit), 0.0, _FARTHEST):
        for axis in (0, 1):
            for signed in (length, -length):
                step = (signed, 0.0, 0.0) if axis == 0 else (0.0, signed, 0.0)
                changes = [Change(("boxes", place, "at", axis), box.at[axis], round(box.at[axis] + signed, _DECIMALS))]
                taken = [_led_along(course, last, box.wall, step, standing) for course, last in ends]
                if any(change is None for change in taken):
                    continue
                changes += [change for row in taken for change in row or ()]
                yield Option(
                    length, len(changes), tuple(changes), f"move box {box.id} {ways(step, standing.spec.unit)}"
                )


def _ends_at(standing: Standing, place: int) -> Iterator[tuple[Course, bool]]:
    """Runs that end at a box, and which end that is."""
    box = standing.spec.boxes[place]
    product = standing.draft.catalog.box(box.product)
    for run in standing.house.runs:
        for last in (False, True):
            if is_at_box(standing, box.wall, run.path[-last], box.at, (product.width, product.height)):
                course = course_of(standing, run.id)
                assert course is not None  # runs of a house are those of its spec
                yield course, last


def _led_along(course: Course, last: bool, wall: str, step: Vec3, standing: Standing) -> tuple[Change, ...] | None:
    """The run with its end moved as its box is; None where another end would have to move too."""
    frame = next(one.wall.frame for one in standing.draft.walls if one.wall.id == wall)
    x, y, z = (round(value, 9) + 0.0 for value in (course.frame.axes @ (step @ frame.axes)).tolist())
    inner, end = (course.points[-2], course.points[-1]) if last else (course.points[1], course.points[0])
    outward = (end[0] - inner[0], end[1] - inner[1], end[2] - inner[2])
    length = math.dist(inner, end)
    along = dot(outward, (x, y, z)) / length
    if abs(abs(along) - math.hypot(x, y, z)) < _EPS:
        moved = end_moved(course.points, last, along)
    else:
        held = (course.held[0] and last, course.held[1] and not last)
        moved = shifted(course.points, len(course.points) - 2 if last else 0, (x, y, z), held)
    return None if moved is None else course.changes(moved)
