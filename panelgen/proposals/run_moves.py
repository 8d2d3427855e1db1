"""Ways to move a run out of a clash: a segment aside, a detour around, another depth, an end a little way."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import Literal, get_args

import numpy as np

from panelgen.geometry.frames import Vec3, add, dot, scaled
from panelgen.model import Change, Finding, Panel
from panelgen.proposals.courses import Course, is_held, open_layers, room_of
from panelgen.proposals.moves import Points, deepened, detoured, end_moved, nearest_point, nearest_segment, shifted
from panelgen.proposals.options import Option, ways
from panelgen.proposals.spots import Spot, inner_radius, spot_of
from panelgen.proposals.standing import Standing
from panelgen.proposals.steps import DEEPEST, distances, grid_of
from panelgen.units import format_length

__all__ = ["MANNERS", "Manner", "run_moves"]

Manner = Literal["straight", "along and up", "along and in"]
MANNERS: tuple[Manner, ...] = get_args(Manner)
"""Ways to move a run, the plainest first."""


_END_SHIFT = 305.0
"""mm. No end moves farther than this: there is a tap, a light or a machine. Common practice, no source."""

_END_TRIM = 51.0
"""mm. No end is cut back or led on farther than this. Common practice, no source."""

_FARTHEST = 1829.0
"""mm. No detour goes farther aside than this."""

_MARGINS = (25.4, 76.2, 203.2)
"""mm. How far before and beyond what is in the way a detour may begin and end."""

_WIDER = (25.4, 76.2, 88.9, 127.0, 203.2)
"""mm. The same beside an opening, where straps stand that the run must not follow."""

_LAYER_CHANGE = 150.0
"""mm. Going from the cavity into the framing or back costs as much as this: it is another day's work for the
trade. Common practice, no source."""

_SLANT = 16
"""Grid steps in which a run is moved along the wall and another way at once: 1 in, or 16 mm."""

_INWARD = 4
"""Grid steps in which it is moved in or out at the same time: 1/4 in, or 4 mm."""

_IN_WALL = 51.0
"""mm. No run is moved farther in or out and along the wall at once: there is another layer."""

_EPS = 1e-6


def run_moves(
    standing: Standing, panel: Panel, finding: Finding, course: Course, manner: Manner = "straight"
) -> Iterator[Option]:
    """Options for the run of a finding, in no order; those that surely leave it where it is are left out.

    By `manner` they move it one way only, or along the wall and at once up or down, or in or out.
    """
    if finding.point is None or (manner == "along and in" and finding.code.startswith("barrier.")):
        return
    spot = spot_of(panel, finding, standing.house.runs, course.spec.id)
    mover = _Mover(standing, panel, finding, course, spot)
    seen: set[Points] = set()
    for points, words in mover.ways() if manner == "straight" else mover.slants(manner):
        if points is None or points in seen or not mover.is_in_place(points):
            continue
        seen.add(points)
        path = course.frame.to_parent(points)
        if not spot.is_met(list(map(tuple, path.tolist())), inner_radius(course.run)):
            yield mover.option(points, words)


@dataclass(frozen=True, slots=True, eq=False)
class _Mover:
    standing: Standing
    panel: Panel
    finding: Finding
    course: Course
    spot: Spot

    def ways(self) -> Iterator[tuple[Points | None, str]]:
        """Lines of points to try, each with what is said of it."""
        points = self.course.points
        k, along = nearest_segment(points, self._in_course(self.finding.point))
        u = self._unit(points[k], points[k + 1])
        for axis in range(3):
            direction = self._axis(axis)
            across = abs(dot(direction, u)) < 0.5
            for length in self._lengths(axis):
                step, words = scaled(direction, length), self._ways(axis, length)
                yield shifted(points, k, step, self.course.held), f"move run {self._id} {words}"
                if across:
                    for span in self._spans(k, along, u):
                        yield detoured(points, k, span, step), f"lead run {self._id} around, {words}"
        yield from self._depths()
        yield from self._trims(k)

    def slants(self, manner: Manner) -> Iterator[tuple[Points | None, str]]:
        """Lines with the segment at the clash moved along the wall and another way at once, in coarse steps."""
        k, _ = nearest_segment(self.course.points, self._in_course(self.finding.point))
        alongs = self._strides(_SLANT * self._grid, _END_SHIFT)
        axis, others = (1, alongs) if manner == "along and up" else (2, self._strides(_INWARD * self._grid, _IN_WALL))
        for along, other in product(alongs, others):
            step = [along, 0.0, 0.0]
            step[axis] = other
            words = f"move run {self._id} {ways((step[0], step[1], step[2]), self.standing.spec.unit)}"
            moved = add(scaled(self._axis(0), along), scaled(self._axis(axis), other))
            yield shifted(self.course.points, k, moved, self.course.held), words

    @staticmethod
    def _strides(stride: float, most: float) -> list[float]:
        """Multiples of a stride up to `most`, mm, either way."""
        return [sign * n * stride for n in range(1, int(most / stride) + 1) for sign in (1, -1)]

    def is_in_place(self, points: Points) -> bool:
        """Whether the ends stay near enough to where a trade asked for them, and what was in the panel is in it."""
        old = self.course.points
        ends = all(
            math.dist(points[place], old[place]) <= (_EPS if held else _END_SHIFT)
            for place, held in zip((0, -1), self.course.held, strict=True)
        )
        layers = [self._layer(old[place]) for place in (0, -1)]
        if layers[0] != layers[1] and layers != [self._layer(points[place]) for place in (0, -1)]:
            return False  # it leads from one layer to the other on purpose
        if self._joins(points):
            return False
        return ends and all(
            here or not there
            for point in points
            if point not in old
            for here, there in zip(self._inside(point), self._inside(nearest_point(old, point)), strict=True)
        )

    def _joins(self, points: Points) -> bool:
        """Whether a free end that moves comes to lie at a box or another run, where it would seem to be joined."""
        old, held = self.course.points, self.course.held
        x, y, z = (column.tolist() for column in self.course.frame.to_parent(points).T)
        path = tuple(zip(x, y, z, strict=True))
        ends = ((points[0] != old[0], held[0], path), (points[-1] != old[-1], held[1], path[::-1]))
        return any(moves and not stays and is_held(self.standing, self.course.run, way) for moves, stays, way in ends)

    def _inside(self, point: Vec3) -> tuple[bool, bool]:
        """Whether a point of the course is where services may be: in the panel's depth and height, in its own wall's.

        The finding may be where the run reaches into the panel of another wall, which it had better leave.
        """
        low, high = room_of(self.panel.layers)
        ((_, y, z),) = self.panel.frame.to_local(self.course.frame.to_parent([point])).tolist()
        own = room_of(self.course.layers) if self.course.layers else (-math.inf, math.inf)
        is_guest = self.course.spec.wall not in (None, self.panel.wall)
        in_depth = is_guest or low <= z <= high
        return bool(in_depth and 0.0 <= y <= self.panel.height), own[0] <= point[2] <= own[1]

    def _layer(self, point: Vec3) -> str:
        """The framing or cavity that a point of the course is in, of its own wall or the panel; empty elsewhere."""
        if self.course.layers:
            layers, z = self.course.layers, point[2]
        else:
            layers, z = self.panel.layers, self.panel.frame.to_local(self.course.frame.to_parent([point]))[0, 2]
        return next((layer.name for layer in open_layers(layers) if layer.z0 <= z <= layer.z1), "")

    def option(self, points: Points, words: str) -> Option:
        """The option that gives the run these points, its sleeves moved along."""
        old = self.course.points
        new = [point for point in points if point not in old]
        ends = (math.dist(points[place], old[place]) for place in (0, -1))
        distance = max((*(math.dist(point, nearest_point(old, point)) for point in new), *ends))
        gone = sum(point not in points for point in old)
        layers = ((self._layer(nearest_point(old, point)), self._layer(point)) for point in new)
        if any(before and before != after for before, after in layers):
            distance += _LAYER_CHANGE
        changes = (*self.course.changes(points), *self._sleeves(points))
        return Option(round(distance, 3), max(len(new), gone), changes, words)

    def _sleeves(self, points: Points) -> Iterator[Change]:
        """The sleeves of the run brought to where it now goes through their walls."""
        if len(points) != len(self.course.points) or self.course.spec.wall is None:
            return
        for place, sleeve in enumerate(self.standing.spec.sleeves):
            if sleeve.run != self.course.spec.id or sleeve.wall != self.course.spec.wall or sleeve.at is None:
                continue
            k, _ = nearest_segment(self.course.points, (*sleeve.at, self.course.points[0][2]))
            step = [new - old for new, old in zip(points[k], self.course.points[k], strict=True)]
            for axis in (0, 1):
                if abs(step[axis]) > 1e-6:
                    yield Change(
                        ("sleeves", place, "at", axis), sleeve.at[axis], round(sleeve.at[axis] + step[axis], 6)
                    )

    def _depths(self) -> Iterator[tuple[Points | None, str]]:
        """The whole run in the middle of the cavity, or of the framing."""
        if any(self.course.held) or self.course.spec.wall != self.panel.wall:
            return
        for word, depth in self.course.depths.items():
            yield deepened(self.course.points, (0.0, 0.0, 1.0), depth), f"lay run {self._id} in the {word}"

    def _trims(self, k: int) -> Iterator[tuple[Points | None, str]]:
        points = self.course.points
        for last, at_end, held in ((False, k == 0, 0), (True, k == len(points) - 2, 1)):
            if not at_end or self.course.held[held]:
                continue
            for length in distances(self._grid, 0.0, _END_TRIM):
                words = f"the end of run {self._id} by {format_length(length, self.standing.spec.unit)}"
                for verb, signed in (("cut back", -length), ("lead on", length)):
                    moved = end_moved(points, last, signed)
                    if moved is not None and self._layer(moved[-last]) == self._layer(points[-last]):
                        yield moved, f"{verb} {words}"

    def _lengths(self, axis: int) -> Iterator[float]:
        """Signed distances along a panel axis, mm."""
        for length in distances(self._grid, self._least, DEEPEST if axis == 2 else _FARTHEST):
            yield length
            yield -length
        if axis == 2 and self.course.spec.wall is not None:
            yield from self._to_grid()

    def _to_grid(self) -> Iterator[float]:
        """Steps in depth that bring the segment to a depth that is easily written, or to the middle of a layer."""
        k, _ = nearest_segment(self.course.points, self._in_course(self.finding.point))
        z = self.course.points[k][2]
        targets = [n * 2 * self._grid for n in range(round(-DEEPEST / self._grid / 2), round(DEEPEST / self._grid / 2))]
        yield from (target - z for target in (*targets, *self.course.depths.values()) if abs(target - z) > 1e-3)

    @property
    def _least(self) -> float:
        """The least move that can help: how deep the clash is, where that is what was measured."""
        finding = self.finding
        if finding.code not in _DEPTHS or finding.value is None or finding.limit is None:
            return 0.0
        return abs(finding.value - finding.limit)

    def _spans(self, k: int, along: float, u: Vec3) -> Iterator[tuple[float, float]]:
        """Parts of segment `k` to lead around: what is in the way with some margin, then all of it."""
        a, b = self.course.points[k], self.course.points[k + 1]
        low, high = along, along
        around = self.spot.around()
        if around is not None:
            corners = np.array(
                [(x, y, z) for x in _pair(around, 0) for y in _pair(around, 1) for z in _pair(around, 2)]
            )
            house = self.panel.frame.to_parent(corners)
            places = (self.course.frame.to_local(house) - np.array(a)) @ np.array(u)
            low, high = min(low, float(places.min())), max(high, float(places.max()))
        reach = self.course.run.outside_diameter / 2
        grid = 4 * self._grid
        both = product(_WIDER, _WIDER) if self.finding.code == "run.opening" else zip(_MARGINS, _MARGINS, strict=True)
        for before, beyond in both:
            yield (
                math.floor((low - reach - before) / grid) * grid,
                math.ceil((high + reach + beyond) / grid) * grid,
            )
        yield (0.0, math.dist(a, b))

    @property
    def _id(self) -> str:
        return self.course.spec.id

    @property
    def _grid(self) -> float:
        return grid_of(self.standing.spec.unit)

    def _ways(self, axis: int, length: float) -> str:
        step = [0.0, 0.0, 0.0]
        step[axis] = length
        return ways((step[0], step[1], step[2]), self.standing.spec.unit)

    def _axis(self, axis: int) -> Vec3:
        """An axis of the course's wall, or of the panel for a run in house coordinates, in the frame of the course."""
        if self.course.spec.wall is not None:
            return (float(axis == 0), float(axis == 1), float(axis == 2))
        rows = self.course.frame.axes @ self.panel.frame.axes[axis]
        x, y, z = (round(value, 9) + 0.0 for value in rows.tolist())
        return (x, y, z)

    def _in_course(self, point: Vec3 | None) -> Vec3:
        assert point is not None  # findings without a place are not tried
        ((x, y, z),) = self.course.frame.to_local([self.panel.frame.point(*point)]).tolist()
        return (x, y, z)

    @staticmethod
    def _unit(a: Vec3, b: Vec3) -> Vec3:
        length = math.dist(a, b)
        return ((b[0] - a[0]) / length, (b[1] - a[1]) / length, (b[2] - a[2]) / length)


_DEPTHS = ("run.member", "run.run", "run.opening", "bore.edge")
"""Codes whose value misses its limit by the least move that can help."""


def _pair(box: tuple[Vec3, Vec3], axis: int) -> tuple[float, float]:
    return box[0][axis], box[1][axis]
