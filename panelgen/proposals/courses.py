"""A run of the spec as a line to move: its points as numbers in its own frame, and back into the spec."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from panelgen.design.floors.outline import Deck
from panelgen.design.walls.plan import PlanWall
from panelgen.geometry.frames import WORLD, Frame, Vec3, add, dot, scaled
from panelgen.model import Change, Layer, LayerKind, ServiceRun
from panelgen.proposals.moves import Points
from panelgen.proposals.standing import Standing
from panelgen.spec import RunSpec

__all__ = ["Course", "course_of", "is_at_box", "is_held", "open_layers", "room_of"]

_EPS = 1e-6
_AT_BOX = 75.0
"""mm. An end this near to a box in the plane of the wall belongs to it; common practice, no source."""

_AT_RUN = 25.0
"""mm. An end this near to the centre line of another run of its system is joined to it."""

_DECIMALS = 6


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """Run `place` of the spec: `points` in `frame` (of its wall, or the house), mm.

    `depths` are the depth words of its wall with the depth each stands for, `layers` are those of its
    wall, none for a run in house coordinates. `held` says which ends (first,
    last) have to stay, because a box or another run is there.
    """

    place: int
    spec: RunSpec
    run: ServiceRun
    frame: Frame
    points: Points
    depths: Mapping[str, float]
    layers: tuple[Layer, ...]
    held: tuple[bool, bool]

    def changes(self, points: Points) -> tuple[Change, ...]:
        """What to write in the spec for the run to have these points: single numbers where it keeps their count."""
        rows = tuple(self._row(point) for point in points)
        path = ("runs", self.place, "path")
        if len(rows) != len(self.spec.path):
            return (Change(path, self.spec.path, rows),)
        return tuple(
            Change((*path, k, axis), old, new)
            for k, (before, after) in enumerate(zip(self.spec.path, rows, strict=True))
            for axis, (old, new) in enumerate(zip(before, after, strict=True))
            if not _are_same(old, new)
        )

    def _row(self, point: Vec3) -> tuple[float, float, float | str]:
        """A point as the spec has it: as it stands there where it stays, with its depth word where there is one."""
        for old, row in zip(self.points, self.spec.path, strict=True):
            if math.dist(old, point) < _EPS:
                return row
        x, y, z = (round(value, _DECIMALS) for value in point)
        word = next((word for word, depth in self.depths.items() if abs(depth - z) < _EPS), None)
        used = any(isinstance(row[2], str) for row in self.spec.path)
        return (x, y, word if word is not None and used else z)


def room_of(layers: Sequence[Layer]) -> tuple[float, float]:
    """The depths between which services may be in a wall: of its framing and cavity, mm."""
    rooms = open_layers(layers)
    return min(layer.z0 for layer in rooms), max(layer.z1 for layer in rooms)


def open_layers(layers: Sequence[Layer]) -> tuple[Layer, ...]:
    """The framing and the cavity of a wall."""
    return tuple(layer for layer in layers if layer.kind is not LayerKind.SHEATHING)


def _are_same(old: float | str, new: float | str) -> bool:
    if isinstance(old, str) or isinstance(new, str):
        return old == new
    return abs(old - new) < _EPS


def course_of(standing: Standing, id: str) -> Course | None:
    """The course of the run with that id; None where the spec has none."""
    found = next(((place, spec) for place, spec in enumerate(standing.spec.runs) if spec.id == id), None)
    if found is None:
        return None
    place, spec = found
    run, frame, depths = standing.house.runs[place], WORLD, {}
    layers: tuple[Layer, ...] = ()
    if spec.wall is not None:
        homes: tuple[PlanWall | Deck, ...] = (*(one.wall for one in standing.draft.walls), *standing.draft.decks)
        wall = next(one for one in homes if one.id == spec.wall)
        frame = wall.frame
        kinds = {LayerKind.STRAPPING: "cavity", LayerKind.FRAMING: "framing"}
        depths = {kinds[layer.kind]: (layer.z0 + layer.z1) / 2 for layer in wall.layers if layer.kind in kinds}
        layers = wall.layers
    x, y, z = (tuple(column) for column in frame.to_local(run.path).T.tolist())
    points = tuple(zip(x, y, z, strict=True))
    held = (is_held(standing, run, run.path), is_held(standing, run, run.path[::-1]))
    return Course(place, spec, run, frame, points, depths, layers, held)


def is_at_box(standing: Standing, wall: str, end: Vec3, at: tuple[float, float], size: tuple[float, float]) -> bool:
    """Whether an end (house, mm) is at a box of a wall, given by its middle and width and height, mm."""
    one = next(one.wall for one in standing.draft.walls if one.wall.id == wall)
    ((x, y, z),) = one.frame.to_local([end]).tolist()
    inside: bool = abs(x - at[0]) <= size[0] / 2 + _AT_BOX and abs(y - at[1]) <= size[1] / 2 + _AT_BOX
    return inside and min(layer.z0 for layer in one.layers) <= z <= max(layer.z1 for layer in one.layers)


def is_held(standing: Standing, run: ServiceRun, path: Sequence[Vec3]) -> bool:
    """Whether the first point of a path is at a box, or joined to a run of its system: not laid into it lengthwise."""
    end, onward = path[0], add(path[1], scaled(path[0], -1.0))
    inner = add(end, scaled(onward, min(2 * _AT_RUN / math.dist(path[0], path[1]), 1.0)))
    for box in standing.spec.boxes:
        product = standing.draft.catalog.box(box.product)
        if is_at_box(standing, box.wall, end, box.at, (product.width, product.height)):
            return True
    return any(
        other.id != run.id and other.system == run.system and _distance(other, end) <= _AT_RUN < _distance(other, inner)
        for other in standing.house.runs
    )


def _distance(run: ServiceRun, point: Vec3) -> float:
    """From a point to the centre line of a run, mm."""
    least = math.inf
    for a, b in zip(run.path, run.path[1:], strict=False):
        along, offset = add(b, scaled(a, -1.0)), add(point, scaled(a, -1.0))
        size = dot(along, along)
        share = min(max(dot(offset, along) / size, 0.0), 1.0) if size else 0.0
        least = min(least, math.dist(offset, scaled(along, share)))
    return least
