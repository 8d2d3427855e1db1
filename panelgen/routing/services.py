"""Other services in the wall: runs with the clearance that the two systems keep, fittings, boxes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from panelgen.catalog import Catalog
from panelgen.design.brief import Span
from panelgen.geometry.frames import Vec3, add, scaled
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Box, Fitting, RunPart
from panelgen.model.pieces import half_extents
from panelgen.routing.bodies import ACROSS, Body, Cause, Obstacle, Slab, steps
from panelgen.routing.pipe import Pipe
from panelgen.routing.site import Site

__all__ = ["served_depths", "service_obstacles"]


def service_obstacles(site: Site, pipe: Pipe, catalog: Catalog, ends: Sequence[Vec3]) -> Iterator[Obstacle]:
    """Runs, fittings and boxes of a site, but for a box in which the pipe ends.

    A pipe that ends on a run of its own system leaves that run at a right angle. A run of the pipe's own
    id is the one it replaces, and not looked at.
    """
    systems = {run.id: run.system for run in site.house.runs}
    for panel in site.panels:
        shift = (panel.wall_start, 0.0, 0.0)
        for part in panel.runs:
            if part.run != pipe.run:
                apart = catalog.services.clearance(pipe.system, part.system).distance
                joints = ends if part.system == pipe.system else ()
                yield from _run(part, pipe, shift, apart, joints)
        for fitting in panel.fittings:
            if fitting.run != pipe.run:
                apart = catalog.services.clearance(pipe.system, systems.get(fitting.run, "")).distance
                yield from _fitting(fitting, shift, apart)
        for box in panel.boxes:
            low, high = _bounds(box, shift)
            if not any(_is_inside(end, low, high) for end in ends):
                back = (high[0], high[1], high[2] + box.back)
                yield Body(low, back, Cause(box.id, f"box {box.id}"))


def served_depths(site: Site, pipe: Pipe, end: Vec3) -> Span | None:
    """The depths at which an end is still in the box, or on the run of its own system, that it is in now."""
    for panel in site.panels:
        shift = (panel.wall_start, 0.0, 0.0)
        for box in panel.boxes:
            low, high = _bounds(box, shift)
            if _is_inside(end, low, high):
                return low[2], high[2]
        for part in panel.runs:
            if part.run != pipe.run and part.system == pipe.system:
                legs = (pair for a, b in pairwise(part.path) for pair in steps(add(a, shift), add(b, shift)))
                if any(_is_inside(end, low, high) for low, high in legs):
                    return end[2], end[2]
    return None


def _run(part: RunPart, pipe: Pipe, shift: Vec3, apart: float, joints: Sequence[Vec3]) -> Iterator[Obstacle]:
    why = f", from which {pipe.system} keeps {apart:.0f} mm off {part.system}" if apart else ""
    cause = Cause(part.run, f"run {part.run}", why)
    last = len(part.path) - 2
    for leg, (a, b) in enumerate(pairwise(part.path)):
        half = half_extents(part, a, b)
        axis = next((k for k in range(3) if all(abs(b[j] - a[j]) < TOLERANCE for j in ACROSS[k])), None)
        for low, high in steps(add(a, shift), add(b, shift)):
            least, most = list(add(low, scaled(half, -1.0))), list(add(high, half))
            if axis is not None:  # flat at the ends of the run, round where it turns
                flat = (leg == 0, leg == last) if a[axis] <= b[axis] else (leg == last, leg == 0)
                least[axis], most[axis] = (low if flat[0] else least)[axis], (high if flat[1] else most)[axis]
            body = Body((least[0], least[1], least[2]), (most[0], most[1], most[2]), cause, apart)
            joint = next((end for end in joints if _is_inside(end, low, high)), None)
            yield from (body,) if joint is None else _branched(body, pipe, low, high, joint)


def _branched(body: Body, pipe: Pipe, low: Vec3, high: Vec3, joint: Vec3) -> Iterator[Obstacle]:
    """A stretch of a run that the pipe ends on: legs square to it are let through at the joint."""
    axis = max(range(3), key=lambda k: high[k] - low[k])
    yield Body(body.low, body.high, body.cause, body.margin, (axis == 0, axis == 1, axis == 2))
    for square in ACROSS[axis]:
        room = add(pipe.half[square], (body.margin,) * 3)
        least, most = list(add(body.low, scaled(room, -1.0))), list(add(body.high, room))
        before, after = most.copy(), least.copy()
        before[axis] = after[axis] = joint[axis]
        yield Slab(square, (least[0], least[1], least[2]), (before[0], before[1], before[2]), body.cause)
        yield Slab(square, (after[0], after[1], after[2]), (most[0], most[1], most[2]), body.cause)


def _fitting(fitting: Fitting, shift: Vec3, apart: float) -> Iterator[Body]:
    cause = Cause(fitting.id, f"the {fitting.kind} of run {fitting.run}")
    middle = add(fitting.point, shift)
    for arm in fitting.arms:
        direction = np.array(arm) / max(float(np.linalg.norm(arm)), TOLERANCE)
        x, y, z = (fitting.diameter / 2 * np.sqrt(np.maximum(1.0 - direction**2, 0.0))).tolist()
        for low, high in steps(middle, add(middle, arm)):
            yield Body(add(low, (-x, -y, -z)), add(high, (x, y, z)), cause, apart)


def _bounds(box: Box, shift: Vec3) -> tuple[Vec3, Vec3]:
    corners = (add(box.frame.origin, shift), add(box.frame.point(*box.size), shift))
    (x0, x1), (y0, y1), (z0, z1) = (sorted(pair) for pair in zip(*corners, strict=True))
    return (x0, y0, z0), (x1, y1, z1)


def _is_inside(point: Vec3, low: Vec3, high: Vec3) -> bool:
    return all(a - TOLERANCE <= p <= b + TOLERANCE for p, a, b in zip(point, low, high, strict=True))
