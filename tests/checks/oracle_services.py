"""Random fittings in sticks, runs beside runs and boxes in sticks, and what a solid modeller says about them.

As in `tests.checks.oracle`, a pair is decided where bodies drawn a little too small and a little too large agree.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import manifold3d as m3
import numpy as np

from panelgen.checks.device_boxes import device_boxes
from panelgen.checks.runs.crossing import run_run
from panelgen.checks.runs.member import run_member
from panelgen.checks.scene import Scene
from panelgen.geometry.frames import Vec3, add
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Box, Fitting, Member, RunPart
from tests.checks.builders import WHY, panel, run
from tests.checks.oracle import (
    Agreement,
    Verdict,
    as_duct,
    member_solid,
    random_frame,
    random_member,
    run_solids,
    run_through,
)

__all__ = ["beyond_tolerance", "compare_boxes", "compare_fittings", "compare_run_pairs"]

_SIDES_AROUND = 1 / math.cos(math.pi / 64)
_BALL_AROUND = 1.012
_SPECK, _SLIVER = 1e-9, 1e-3  # mm3
_KINDS = ("coupling", "elbow", "tee")


def beyond_tolerance(agreement: Agreement) -> Agreement:
    """An agreement on runs and sticks without the disputed pairs that the tolerance leaves open.

    Those meet as they are drawn, and no longer once the tolerance is taken off: neither answer is wrong.
    """
    wrong = [pair for pair in agreement.disputed if not _is_open(*pair)]
    return Agreement(agreement.decided - len(agreement.disputed) + len(wrong), agreement.meet, wrong)


def _is_open(part: RunPart, stick: Member) -> bool:
    tight = _share(list(run_solids(part, 1.0, 1.0)), [member_solid(stick, _SIDES_AROUND)], _SLIVER)
    return not tight and _share(_generous(part), [member_solid(stick, 1.0)], _SPECK)


def compare_fittings(seed: int, count: int) -> Agreement:
    """Random couplings, elbows and tees on runs through bevelled and bored sticks."""
    rng = np.random.default_rng(seed)
    agreement = Agreement()
    for _ in range(count):
        stick = random_member(rng, bores=int(rng.integers(0, 3)))
        part = run_through(rng, stick)
        part = replace(part, path=part.path[:2])
        fitting = _random_fitting(rng, part)
        bodies = {
            scale: [*run_solids(part, scale, ball), *_arms(fitting, scale, ball)]
            for scale, ball in ((1.0, 1.0), (_SIDES_AROUND, _BALL_AROUND))
        }
        surely = _share(bodies[1.0], [member_solid(stick, _SIDES_AROUND)], _SLIVER)
        maybe = surely or _share(bodies[_SIDES_AROUND], [member_solid(stick, 1.0)], _SPECK)
        findings = run_member(Scene.of((panel([stick], [part], fittings=(fitting,)),)))
        found = any(finding.value is not None for finding in findings)
        agreement = agreement.counted(Verdict(surely == maybe, surely), found, (part, fitting, stick))
    return agreement


def _random_fitting(rng: np.random.Generator, part: RunPart) -> Fitting:
    a, b = np.array(part.path[0]), np.array(part.path[1])
    axis = (b - a) / np.linalg.norm(b - a)
    kind = str(rng.choice(_KINDS))
    angle = float(rng.choice((45.0, 90.0))) if kind == "elbow" else 0.0
    aside = np.cross(axis, rng.normal(size=3))
    aside /= np.linalg.norm(aside)
    turn = math.radians(angle or 90.0)
    other = math.cos(turn) * axis + math.sin(turn) * aside
    diameter, length = part.diameter * rng.uniform(1.05, 1.6), rng.uniform(20.0, 160.0)
    place = a + rng.uniform(0.0, 1.0) * (b - a)
    return Fitting(
        "f", part.run, kind, "p", _vec(place), _vec(axis), float(diameter), float(length), WHY,
        None if kind == "coupling" else _vec(other), angle,
    )  # fmt: skip


def _arms(fitting: Fitting, scale: float, ball: float) -> Iterator[m3.Manifold]:
    """The arms as runs of their own: through, from the end to the middle and out, or both."""
    middle = np.array(fitting.point)
    ends = [middle + np.array(arm) for arm in fitting.arms]
    paths = (
        [[ends[0], middle, ends[1]]] if fitting.angle else [[ends[0], ends[1]], *([middle, end] for end in ends[2:])]
    )
    for path in paths:
        yield from run_solids(run(*map(_vec, path), diameter=fitting.diameter), scale, ball)


def compare_run_pairs(seed: int, count: int) -> Agreement:
    """Random runs beside one another: pipes and ducts, along, across and end to end, many of them all but touching."""
    rng = np.random.default_rng(seed)
    agreement = Agreement()
    for _ in range(count):
        first = _random_run(rng, "a.1", "cold water")
        second = _beside(rng, first)
        surely = _share(list(run_solids(first, 1.0, 1.0)), list(run_solids(second, 1.0, 1.0)), _SLIVER)
        maybe = surely or _share(_generous(first), _generous(second), _SPECK)
        findings = run_run(Scene.of((panel((), [first, second]),)))
        found = any(finding.parts == (first.run, second.run) for finding in findings)
        agreement = agreement.counted(Verdict(surely == maybe, surely), found, (first, second))
    return agreement


def _random_run(rng: np.random.Generator, id: str, system: str) -> RunPart:
    path = [rng.uniform(-200.0, 200.0, 3)]
    for _ in range(int(rng.integers(1, 3))):
        step = rng.normal(size=3)
        path.append(path[-1] + step / np.linalg.norm(step) * rng.uniform(60.0, 400.0))
    part = run(*map(_vec, path), id=id, system=system, diameter=float(rng.uniform(8.0, 90.0)))
    return as_duct(rng, part) if rng.random() < 0.35 else part


def _beside(rng: np.random.Generator, first: RunPart) -> RunPart:
    """A run that passes a point of the first: at random, at the sum of the radii, or a hair nearer or farther."""
    second = _random_run(rng, "b.1", "data")
    a, b = np.array(first.path[0]), np.array(first.path[1])
    c, d = np.array(second.path[0]), np.array(second.path[1])
    normal = np.cross(b - a, d - c)
    normal /= np.linalg.norm(normal)
    apart = (first.diameter + second.diameter) / 2 * rng.choice((1.0, rng.uniform(0.0, 1.2)))
    apart += rng.choice((0.0, -0.3, 0.3, rng.uniform(-20.0, 20.0)))
    aim = a + rng.uniform(-0.1, 1.1) * (b - a) + apart * normal
    shift = aim - (c + rng.uniform(-0.1, 1.1) * (d - c))
    return replace(second, path=tuple(_vec(np.array(point) + shift) for point in second.path))


def _generous(part: RunPart) -> list[m3.Manifold]:
    """The bodies of a run before the tolerance is taken off."""
    path = [np.array(point) for point in part.path]
    for end, next_to in ((0, 1), (-1, -2)):
        out = path[end] - path[next_to]
        path[end] = path[end] + TOLERANCE * out / np.linalg.norm(out)
    section = None if part.section is None else (part.section[0] + TOLERANCE, part.section[1] + TOLERANCE)
    grown = replace(part, path=tuple(map(_vec, path)), diameter=part.diameter + 2 * TOLERANCE, section=section)
    return list(run_solids(grown, _SIDES_AROUND, _BALL_AROUND))


def compare_boxes(seed: int, count: int) -> Agreement:
    """Random device boxes, turned any way, in bevelled sticks."""
    rng = np.random.default_rng(seed)
    agreement = Agreement()
    for _ in range(count):
        stick = random_member(rng, notches=int(rng.integers(0, 2)))
        size = _vec(rng.uniform(30.0, 110.0, 3))
        frame = random_frame(rng, 80.0)
        near = stick.frame.point(*(rng.uniform(-0.1, 1.1, 3) * (stick.length, stick.width, stick.thickness)).tolist())
        box = Box("b", "box", size, replace(frame, origin=add(near, frame.origin)), WHY)
        columns = np.column_stack((box.frame.axes.T, box.frame.origin))
        solid = m3.Manifold.cube(size).transform(columns)
        volume = (solid ^ member_solid(stick, 1.0)).volume()
        surely = volume > 100.0 * TOLERANCE
        findings = device_boxes(Scene.of((panel([stick], boxes=(box,)),)))
        found = any(finding.code == "box.member" for finding in findings)
        agreement = agreement.counted(Verdict(surely or volume <= _SPECK, surely), found, (box, stick))
    return agreement


def _share(ones: list[m3.Manifold], others: list[m3.Manifold], least: float) -> bool:
    return any((one ^ other).volume() > least for one in ones for other in others)


def _vec(point: np.ndarray) -> Vec3:
    x, y, z = map(float, point)
    return (x, y, z)
