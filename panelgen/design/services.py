"""Service runs: from the spec to house coordinates, then the stretches of them in one panel."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence

from panelgen.catalog import Catalog, ServiceSize
from panelgen.errors import Problem, SpecError
from panelgen.geometry.frames import Frame, Vec3
from panelgen.model import LayerKind, RunPart, ServiceRun, Why
from panelgen.model.layers import Layer
from panelgen.spec.services import RunSpec

__all__ = ["clip_to_panel", "house_run"]

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


def clip_to_panel(run: ServiceRun, frame: Frame, lower: Vec3, upper: Vec3) -> tuple[RunPart, ...]:
    """The stretches of a run inside a panel's box, `lower` to `upper` in panel coordinates (mm)."""
    path: list[Vec3] = [(x, y, z) for x, y, z in frame.to_local(run.path).tolist()]
    radius = run.outside_diameter / 2
    for along, low, high in zip(zip(*path, strict=True), lower, upper, strict=True):
        if max(along) < low - radius or min(along) > high + radius:
            return ()
    stretches: list[list[Vec3]] = []
    enters: list[bool] = []
    leaves: list[bool] = []
    for a, b in itertools.pairwise(path):
        inside = _inside(a, b, lower, upper)
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
            insulation=run.insulation,
            section=run.section,
            family=run.family,
            bend_radius=run.bend_radius,
            flow=run.flow,
        )
        for number, points in enumerate(stretches, start=1)
        if max(math.dist(points[0], point) for point in points) > _EPS
    )


def _at(a: Vec3, b: Vec3, t: float) -> Vec3:
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t)


def _inside(a: Vec3, b: Vec3, lower: Vec3, upper: Vec3) -> tuple[float, float] | None:
    """The part (t0, t1) of a segment inside a box; None where it is outside or only touches."""
    t0, t1 = 0.0, 1.0
    for start, stop, low, high in zip(a, b, lower, upper, strict=True):
        step = stop - start
        if abs(step) < 1e-12:
            if start < low - _EPS or start > high + _EPS:
                return None
            continue
        near, far = sorted(((low - start) / step, (high - start) / step))
        t0, t1 = max(t0, near), min(t1, far)
    return (t0, t1) if t1 - t0 > 1e-9 else None
