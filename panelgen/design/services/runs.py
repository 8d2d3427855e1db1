"""Service runs: from the spec to house coordinates, then the stretches of them in one panel."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from panelgen.catalog import Catalog, ServiceSize
from panelgen.errors import Problem, SpecError
from panelgen.geometry.boxes import overlapping
from panelgen.geometry.frames import Floats, Frame, Vec3
from panelgen.geometry.stretches import Stretches
from panelgen.geometry.turned_boxes import TurnedBoxes
from panelgen.model import LayerKind, RunPart, ServiceRun, Why
from panelgen.model.layers import Layer
from panelgen.spec.services import RunSpec

__all__ = ["Served", "Space", "house_run", "parts_in"]

_EPS = 1e-6


def house_run(
    spec: RunSpec, frames: Mapping[str, Frame], layers: Mapping[str, Sequence[Layer]], catalog: Catalog
) -> ServiceRun:
    """A run of the spec in house coordinates. `frames` and `layers` are by wall id.

    Raises SpecError where a run asks for the service cavity of a wall that has none.
    """
    if spec.size is not None:
        size = catalog.service_size(spec.size)
        product, diameter, family, section = size.name, size.diameter, size.family, size.section
    else:
        assert spec.diameter is not None  # the spec gives one or the other
        size = None
        product, diameter, family, section = f"{spec.diameter:.1f} mm", spec.diameter, "other", None
    if spec.wall is None:
        path = tuple((x, y, z) for x, y, z in spec.path if not isinstance(z, str))
    else:
        frame = frames[spec.wall]
        path = tuple(frame.point(x, y, _depth(spec, z, layers[spec.wall])) for x, y, z in spec.path)
    return ServiceRun(
        spec.id,
        spec.system,
        product,
        diameter,
        path,
        Why("run.spec", f"{spec.system} {product}", f"spec runs {spec.id}"),
        insulation=spec.insulation,
        section=section[::-1] if section is not None and spec.lay == "on edge" else section,
        family=family,
        bend_radius=spec.bend or _bend_radius(size, catalog),
        flow=spec.flow,
        branch_of=spec.branch_of or "",
    )


def _bend_radius(size: ServiceSize | None, catalog: Catalog) -> float:
    """The least radius of the centre line, mm; 0 where elbows turn the run or no rule is known."""
    rule = catalog.services.bend_radius(size) if size is not None else None
    return rule.to_centre_line(size.diameter) if rule is not None and size is not None else 0.0


def _depth(spec: RunSpec, depth: str | float, layers: Sequence[Layer]) -> float:
    if not isinstance(depth, str):
        return depth
    kind = LayerKind.STRAPPING if depth == "cavity" else LayerKind.FRAMING
    for layer in layers:
        if layer.kind is kind:
            return (layer.z0 + layer.z1) / 2
    raise SpecError(
        [
            Problem(
                f"wall {spec.wall} has no service cavity: its assembly has no strapping layer",
                f"runs[{spec.id}].path",
                value=depth,
                remedy="give the depth as a length, or use an assembly with strapping",
            )
        ]
    )


class Space(NamedTuple):
    """A box in a frame, from corner to corner, mm; where `sides` are given, only what lies behind all of them.

    A side is an outward unit normal and how far out along it the plane is.
    """

    frame: Frame
    lower: Vec3
    upper: Vec3
    sides: tuple[tuple[Vec3, float], ...] = ()


class Served(NamedTuple):
    """A floor, ceiling or roof plane before it is split: its id, how thick its sticks are (mm), and its room."""

    name: str
    stick: float
    space: Space


def parts_in(runs: Sequence[ServiceRun], stretches: Stretches, spaces: Sequence[Space]) -> list[tuple[RunPart, ...]]:
    """The parts of runs of the house, whose `stretches` are given, inside each space, in its frame, run after run."""
    if not runs or not spaces:
        return [()] * len(spaces)
    boxes = TurnedBoxes.of(*zip(*(space[:3] for space in spaces), strict=True))
    space, row = overlapping(boxes.limits().grown(_EPS), stretches.limits().grown(_EPS))
    start, end = (boxes.to_local(space, points[row]) for points in (stretches.start, stretches.end))
    enter, leave = _inside(start, end, boxes.low[space], boxes.high[space])
    for k in np.flatnonzero(leave > enter).tolist():
        if spaces[space[k]].sides:
            enter[k], leave[k] = _behind(start[k], end[k], spaces[space[k]].sides, float(enter[k]), float(leave[k]))
    kept = np.flatnonzero(leave - enter > 1e-9)
    space, path, enter, leave = space[kept], stretches.path[row[kept]], enter[kept], leave[kept]
    way, start = (end - start)[kept], start[kept]
    start, end = start + way * enter[:, None], start + way * leave[:, None]
    goes_on = np.zeros(len(kept), dtype=bool)
    goes_on[1:] = (
        (space[1:] == space[:-1])
        & (path[1:] == path[:-1])
        & (enter[1:] <= _EPS)
        & (((start[1:] - end[:-1]) ** 2).sum(axis=1) < 1e-6)
    )
    begins, ends = ([(x, y, z) for x, y, z in points.tolist()] for points in (start, end))
    comes, goes = (enter > _EPS).tolist(), (leave < 1 - _EPS).tolist()
    places = list(zip(space.tolist(), path.tolist(), strict=True))
    count: dict[tuple[int, int], int] = {}
    parts: list[list[RunPart]] = [[] for _ in spaces]
    for first, after in pairwise([*np.flatnonzero(~goes_on).tolist(), len(kept)]):
        place = places[first]
        count[place] = number = count.get(place, 0) + 1
        points = (begins[first], *ends[first:after])
        if max(math.dist(points[0], point) for point in points) > _EPS:
            parts[place[0]].append(_part(runs[place[1]], number, points, comes[first], goes[after - 1]))
    return [tuple(lot) for lot in parts]


def _part(run: ServiceRun, number: int, points: tuple[Vec3, ...], enters: bool, leaves: bool) -> RunPart:
    return RunPart(
        f"{run.id}.{number}",
        run.id,
        run.system,
        run.product,
        run.diameter,
        points,
        run.why,
        enters,
        leaves,
        run.insulation,
        run.section,
        run.family,
        run.bend_radius,
        run.flow,
    )


def _inside(start: Floats, end: Floats, low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Shares (n,) of the way from `start` to `end` at which it enters and leaves a box; all (n, 3).

    It does not enter where the first is not the lesser.
    """
    way = end - start
    level = np.abs(way) < 1e-12
    outside = level & ((start < low - _EPS) | (start > high + _EPS))
    with np.errstate(divide="ignore", invalid="ignore"):
        one, other = (low - start) / way, (high - start) / way
    enter = np.where(level, np.where(outside, np.inf, 0.0), np.minimum(one, other)).max(axis=1)
    leave = np.where(level, 1.0, np.maximum(one, other)).min(axis=1)
    return np.maximum(enter, 0.0), np.minimum(leave, 1.0)


def _behind(
    start: Floats, end: Floats, sides: Sequence[tuple[Vec3, float]], enter: float, leave: float
) -> tuple[float, float]:
    """What of a stretch, from share `enter` to `leave` of the way from `start` to `end`, lies behind all sides."""
    for normal, offset in sides:
        at_start, at_end = float(start @ normal) - offset, float(end @ normal) - offset
        if min(at_start, at_end) > _EPS:
            return np.inf, leave
        if at_start > _EPS:
            enter = max(enter, at_start / (at_start - at_end))
        elif at_end > _EPS:
            leave = min(leave, at_start / (at_start - at_end))
    return enter, leave
