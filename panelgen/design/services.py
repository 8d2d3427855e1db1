"""Service runs: from the spec to house coordinates, then panel by panel, with a bore through each stick in the way.

A bore is made only where a run goes straight through the wide face of a stick with its hole wholly on
that face; anything else is left for the checks to report.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from panelgen.catalog import Catalog
from panelgen.errors import Problem, SpecError
from panelgen.geometry.frames import Floats, Frame, Vec3
from panelgen.model import Bore, LayerKind, Member, RunPart, ServiceRun, Why
from panelgen.model.layers import Layer
from panelgen.spec.services import RunSpec

__all__ = ["bored", "clip_to_panel", "house_run"]

_EPS = 1e-6


def house_run(
    spec: RunSpec, frames: Mapping[str, Frame], layers: Mapping[str, Sequence[Layer]], catalog: Catalog
) -> ServiceRun:
    """A run of the spec in house coordinates. `frames` and `layers` are by wall id.

    Raises SpecError where a run asks for the service cavity of a wall that has none.
    """
    if spec.size is not None:
        size = catalog.service_size(spec.size)
        product, diameter = size.name, size.diameter
    else:
        assert spec.diameter is not None  # the spec gives one or the other
        product, diameter = f"{spec.diameter:.1f} mm", spec.diameter
    if spec.wall is None:
        path = tuple((x, y, z) for x, y, z in spec.path if not isinstance(z, str))
    else:
        frame = frames[spec.wall]
        path = tuple(frame.point(x, y, _depth(spec, z, layers[spec.wall])) for x, y, z in spec.path)
    why = Why("run.spec", f"{spec.system} {product}", f"spec runs {spec.id}")
    return ServiceRun(spec.id, spec.system, product, diameter, path, why)


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


def clip_to_panel(run: ServiceRun, frame: Frame, lower: Vec3, upper: Vec3) -> tuple[RunPart, ...]:
    """The stretches of a run inside a panel's box, `lower` to `upper` in panel coordinates (mm)."""
    path = frame.to_local(run.path)
    radius = run.diameter / 2
    lo, hi = np.array(lower), np.array(upper)
    if np.any(path.max(axis=0) < lo - radius) or np.any(path.min(axis=0) > hi + radius):
        return ()
    stretches: list[list[Vec3]] = []
    enters: list[bool] = []
    leaves: list[bool] = []
    for a, b in itertools.pairwise(path):
        inside = _inside(a, b, lo, hi)
        if inside is None:
            continue
        t0, t1 = inside
        start, end = _at(a, b, t0), _at(a, b, t1)
        if stretches and t0 <= _EPS and math.dist(stretches[-1][-1], start) < 1e-3:
            stretches[-1].append(end)
            leaves[-1] = t1 < 1 - _EPS
        else:
            stretches.append([start, end])
            enters.append(t0 > _EPS)
            leaves.append(t1 < 1 - _EPS)
    return tuple(
        RunPart(
            f"{run.id}.{number}",
            run.id,
            run.system,
            run.product,
            run.diameter,
            tuple(points),
            run.why,
            enters[number - 1],
            leaves[number - 1],
        )
        for number, points in enumerate(stretches, start=1)
    )


def _at(a: Floats, b: Floats, t: float) -> Vec3:
    x, y, z = (a + (b - a) * t).tolist()
    return (x, y, z)


def _inside(a: Floats, b: Floats, lo: Floats, hi: Floats) -> tuple[float, float] | None:
    """The part (t0, t1) of a segment inside a box; None where it is outside or only touches."""
    t0, t1 = 0.0, 1.0
    for start, step, low, high in zip(a.tolist(), (b - a).tolist(), lo.tolist(), hi.tolist(), strict=True):
        if abs(step) < 1e-12:
            if start < low - _EPS or start > high + _EPS:
                return None
            continue
        near, far = sorted(((low - start) / step, (high - start) / step))
        t0, t1 = max(t0, near), min(t1, far)
    return (t0, t1) if t1 - t0 > 1e-9 else None


def bored(members: Sequence[Member], runs: Sequence[RunPart], clearance: Mapping[str, float]) -> tuple[Member, ...]:
    """The members with a bore wherever a run goes straight through one. `clearance` (mm) is by run id."""
    if not runs or not members:
        return tuple(members)
    origins = np.array([m.frame.origin for m in members])
    axes = np.array([(m.frame.x, m.frame.y, m.frame.z) for m in members])
    sizes = np.array([(m.length, m.width, m.thickness) for m in members])
    made: dict[int, list[Bore]] = {}
    for run in runs:
        for a, b in zip(run.path, run.path[1:], strict=False):
            start = np.einsum("mij,mj->mi", axes, np.array(a) - origins)
            end = np.einsum("mij,mj->mi", axes, np.array(b) - origins)
            for index in _through(start, end, sizes):
                bore = _bore(members[index], start[index].tolist(), end[index].tolist(), run, clearance[run.run])
                if bore is not None:
                    made.setdefault(index, []).append(bore)
    return tuple(
        replace(member, bores=(*member.bores, *made[i])) if i in made else member for i, member in enumerate(members)
    )


def _through(start: Floats, end: Floats, sizes: Floats) -> list[int]:
    """Indices of the members whose wide faces a segment enters and leaves, by its centre line."""
    z0, z1 = start[:, 2], end[:, 2]
    thick = sizes[:, 2]
    crosses = (np.minimum(z0, z1) <= _EPS) & (np.maximum(z0, z1) >= thick - _EPS)
    low = np.minimum(start[:, :2], end[:, :2])
    high = np.maximum(start[:, :2], end[:, :2])
    near = np.all((high > 0) & (low < sizes[:, :2]), axis=1)
    found: list[int] = np.flatnonzero(crosses & near).tolist()
    return found


def _bore(member: Member, start: Vec3, end: Vec3, run: RunPart, clearance: float) -> Bore | None:
    length = math.dist(start, end)
    dx, dy, dz = ((b - a) / length for a, b in zip(start, end, strict=True))
    if abs(dz) < 0.5:  # flatter than 30 degrees to the face nobody drills
        return None
    diameter = run.diameter + clearance
    reach = diameter / 2 / abs(dz)  # the hole on the face is an ellipse no longer than this
    for z in (0.0, member.thickness):
        along = (z - start[2]) / dz
        x, y = start[0] + dx * along, start[1] + dy * along
        near, far = member.end_x(member.start, False, y, z) + reach, member.end_x(member.end, True, y, z) - reach
        if not (near <= x <= far and reach <= y <= member.width - reach):
            return None
    along = -start[2] / dz
    point = (start[0] + dx * along, start[1] + dy * along, 0.0)
    if abs(dz) > 1 - 1e-9:
        return Bore(point, diameter, run=run.run)
    sign = math.copysign(1.0, dz)
    return Bore(point, diameter, (dx * sign, dy * sign, dz * sign), run.run)
