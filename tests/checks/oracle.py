"""Random runs and sticks, and what a solid modeller says about them.

The modeller has no round bodies, so every clash is asked twice. A run drawn inside its true surface, in a
stick whose holes are drawn around theirs, meets too little; drawn the other way about, too much. Where
both answers agree the pair is decided, whatever the check says.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise

import manifold3d as m3
import numpy as np
from scipy.spatial.transform import Rotation

from panelgen.checks.runs.member import run_member
from panelgen.checks.scene import Scene
from panelgen.checks.sticks import member_member
from panelgen.geometry.frames import Frame
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Bore, EndCut, Member, Notch, RunPart
from panelgen.model.pieces import DuctPiece, run_pieces
from tests.checks.builders import member, panel, run

SIDES = 64
_AROUND = 1 / math.cos(math.pi / SIDES)
_BALL_AROUND = 1.012
_SPECK = 1e-9  # mm3
_SLIVER = 1e-3  # mm3
_WEDGE = 0.5  # mm3


KINDS = {
    "plain": (0, 0, False),
    "bored": (2, 0, False),
    "notched": (0, 2, False),
    "bored and notched": (2, 1, False),
    "duct": (0, 0, True),
    "duct in bores": (2, 1, True),
}
"""Bores and notches of the sticks, and whether the runs are rectangular ducts."""


@dataclass(frozen=True)
class Agreement:
    """How many pairs the modeller decided, how many of those meet, and those on which the check disagrees."""

    decided: int = 0
    meet: int = 0
    disputed: list[object] = field(default_factory=list)

    def __add__(self, other: Agreement) -> Agreement:
        return Agreement(self.decided + other.decided, self.meet + other.meet, self.disputed + other.disputed)

    def counted(self, verdict: Verdict, found: bool, pair: object) -> Agreement:
        """With one more pair."""
        if not verdict.decided:
            return self
        return self + Agreement(1, int(verdict.meets), [] if found == verdict.meets else [pair])


@dataclass(frozen=True)
class Verdict:
    """What a solid modeller found: decided, and if so whether the two meet."""

    decided: bool
    meets: bool


def compare_runs(kind: str, seed: int, count: int) -> Agreement:
    """Random runs against random sticks of one of `KINDS`.

    A run that only stops inside a hole shares no space with the wood: such findings carry no value.
    """
    bores, notches, ducts = KINDS[kind]
    rng = np.random.default_rng(seed)
    agreement = Agreement()
    for _ in range(count):
        stick = random_member(rng, bores=bores, notches=notches)
        part = run_through(rng, stick)
        if ducts:
            part = as_duct(rng, part)
        found = any(f.value is not None for f in run_member(Scene.of((panel([stick], [part]),))))
        agreement = agreement.counted(run_meets_member(part, stick), found, (part, stick))
    return agreement


def compare_sticks(seed: int, count: int, notches: int) -> Agreement:
    """Random sticks against one another; pairs that overlap by less than a speck or the tolerance are undecided."""
    rng = np.random.default_rng(seed)
    agreement = Agreement()
    for _ in range(count):
        a, b = (replace(random_member(rng, notches=notches, spread=100.0), id=name) for name in "ab")
        solids = [member_solid(one, 1.0) for one in (a, b)]
        volume = (solids[0] ^ solids[1]).volume()
        found = bool(member_member(Scene.of((panel([a, b]),))))
        verdict = Verdict(volume <= _SPECK or volume > _WEDGE, volume > _WEDGE)
        agreement = agreement.counted(verdict, found, (a, b))
    return agreement


def random_member(
    rng: np.random.Generator, *, bores: int = 0, notches: int = 0, slope: float = 0.6, spread: float = 300.0
) -> Member:
    """A stick of random size, turned any way, with cut ends, bores at random angles and notches."""
    size = np.array((rng.uniform(300, 900), rng.uniform(60, 240), rng.uniform(19, 90)))
    return member(
        "stick",
        frame=random_frame(rng, spread),
        size=tuple(size.tolist()),
        start=_random_cut(rng, slope, leans=notches == 0),
        end=_random_cut(rng, slope, leans=notches == 0),
        bores=[_random_bore(rng, size) for _ in range(bores)],
        notches=[_random_notch(rng, size) for _ in range(notches)],
    )


def random_frame(rng: np.random.Generator, spread: float) -> Frame:
    """A frame turned any way, or square to the axes one time in three."""
    axes = Rotation.random(rng=rng).as_matrix() if rng.random() < 0.67 else np.eye(3)[[1, 2, 0]]
    return Frame(tuple(rng.uniform(-spread, spread, 3).tolist()), tuple(axes[0].tolist()), tuple(axes[1].tolist()))


def _random_cut(rng: np.random.Generator, slope: float, leans: bool) -> EndCut:
    across = rng.uniform(-slope, slope, 2) * (rng.random(2) < 0.7)
    return EndCut(float(across[0]), float(across[1]) if leans else 0.0)


def _random_bore(rng: np.random.Generator, size: np.ndarray) -> Bore:
    point = size * (rng.uniform(0.25, 0.75), rng.uniform(0.3, 0.7), 0.0)
    axis = np.array((*(rng.uniform(-0.6, 0.6, 2) * (rng.random() < 0.5)), 1.0))
    axis /= np.linalg.norm(axis)
    return Bore(tuple(point.tolist()), rng.uniform(0.2, 0.5) * size[1], tuple(axis.tolist()), "run")


def _random_notch(rng: np.random.Generator, size: np.ndarray) -> Notch:
    x0 = rng.uniform(0.0, 0.7) * size[0]
    return Notch(x0, x0 + rng.uniform(40, 200), rng.uniform(0.1, 0.6) * size[1], bool(rng.random() < 0.5))


def run_through(rng: np.random.Generator, stick: Member) -> RunPart:
    """A straight or bent run near a stick: along a bore, along a notch, grazing a face, or anywhere."""
    kind = rng.integers(0, 4)
    diameter = rng.uniform(5, 80)
    size = np.array((stick.length, stick.width, stick.thickness))
    along = rng.normal(size=3)
    if kind == 0 and stick.bores:
        bore = stick.bores[rng.integers(len(stick.bores))]
        along = np.array(bore.axis) + rng.normal(size=3) * rng.choice((0.0, 0.02, 0.2))
        diameter = bore.diameter * rng.uniform(0.3, 1.05)
        through = np.array(bore.point) + rng.normal(size=3) * rng.choice((0.0, 1.0, 8.0))
    elif kind == 1 and stick.notches:
        notch = stick.notches[rng.integers(len(stick.notches))]
        along = np.array((0.0, 0.0, 1.0)) + rng.normal(size=3) * rng.choice((0.0, 0.05))
        diameter = min(diameter, notch.depth, notch.x1 - notch.x0)
        y = rng.uniform(0.0, notch.depth)
        through = np.array((rng.uniform(notch.x0, notch.x1), stick.width - y if notch.from_far_edge else y, 0.0))
    elif kind == 2:
        axis = rng.integers(3)
        through = size * rng.random(3)
        through[axis] = rng.choice((-1.0, 1.0)) * (diameter / 2 + rng.choice((-0.1, 0.0, 0.1, 2.0))) + (
            size[axis] if rng.random() < 0.5 else 0.0
        )
        along[axis] = 0.0
    else:
        through = size * rng.uniform(-0.3, 1.3, 3)
    along /= np.linalg.norm(along)
    back, ahead = rng.uniform(-60, 500), rng.uniform(-60, 500)
    path = [through - back * along, through + max(ahead, 5.0 - back) * along]
    if rng.random() < 0.4:
        path.append(path[-1] + rng.normal(size=3) * 150)
    points = stick.frame.to_parent(np.array(path))
    return run(*map(tuple, points.tolist()), diameter=diameter)


def as_duct(rng: np.random.Generator, part: RunPart) -> RunPart:
    """The first stretch of a run as a rectangular duct inside the same circle."""
    angle = rng.uniform(0.2, 1.37)
    section = (part.diameter * math.cos(angle), part.diameter * math.sin(angle))
    return replace(part, path=part.path[:2], section=section)


def run_meets_member(part: RunPart, stick: Member) -> Verdict:
    """Whether the run, shaved by the tolerance, shares a volume with the wood."""
    surely = _share_volume(run_solids(part, 1.0, 1.0), member_solid(stick, _AROUND), _SLIVER)
    maybe = surely or _share_volume(run_solids(part, _AROUND, _BALL_AROUND), member_solid(stick, 1.0), _SPECK)
    return Verdict(surely == maybe, surely)


def _share_volume(pieces: Iterable[m3.Manifold], wood: m3.Manifold, least: float) -> bool:
    return any((piece ^ wood).volume() > least for piece in pieces)


def member_solid(stick: Member, hole_scale: float) -> m3.Manifold:
    """A stick in panel coordinates, its holes `hole_scale` times as wide as a prism inside the bore."""
    reach = stick.length + stick.width + stick.thickness
    solid = m3.Manifold.cube((4 * reach, stick.width, stick.thickness)).translate((-2 * reach, 0, 0))
    for cut, at_end in ((stick.start, False), (stick.end, True)):
        sign = -1.0 if at_end else 1.0
        normal = np.array((sign, -sign * cut.across_width, -sign * cut.across_thickness))
        size = np.linalg.norm(normal)
        solid = solid.trim_by_plane(normal / size, sign * stick.end_x(cut, at_end, 0.0, 0.0) / size)
    for bore in stick.bores:
        solid -= _drum(np.array(bore.point), np.array(bore.axis), reach, bore.diameter / 2 * hole_scale)
    for notch in stick.notches:
        low = stick.width - notch.depth if notch.from_far_edge else -1.0
        size = (notch.x1 - notch.x0, notch.depth + 1.0, stick.thickness + 2.0)
        solid -= m3.Manifold.cube(size).translate((notch.x0, low, -1.0))
    return solid.transform(np.column_stack((stick.frame.axes.T, stick.frame.origin)))


def _drum(middle: np.ndarray, axis: np.ndarray, half: float, radius: float) -> m3.Manifold:
    first, second = np.linalg.svd(axis[None])[2][1:]
    if np.cross(first, second) @ axis < 0:
        first = -first
    drum = m3.Manifold.cylinder(2 * half, radius, -1, SIDES, True)
    return drum.transform(np.column_stack((first, second, axis, middle)))


def run_solids(part: RunPart, scale: float, ball_scale: float) -> Iterator[m3.Manifold]:
    """The stretches and bends of a run shaved by the tolerance, flat at its ends, round bodies drawn to `scale`."""
    if part.section is not None:
        yield from map(_shaved_duct, run_pieces(part))
        return
    path = np.array(part.path)
    radius = part.diameter / 2 - TOLERANCE
    last = len(path) - 2
    for k, (a, b) in enumerate(pairwise(path)):
        along = (b - a) / np.linalg.norm(b - a)
        a = a + TOLERANCE * along if k == 0 else a
        b = b - TOLERANCE * along if k == last else b
        yield _drum((a + b) / 2, along, np.linalg.norm(b - a) / 2, radius * scale)
        if k < last:
            yield m3.Manifold.sphere(radius * ball_scale, SIDES // 2).translate(b)


def _shaved_duct(piece: DuctPiece) -> m3.Manifold:
    """A straight rectangular piece less half the tolerance on every side: ducts and blocks part at the whole of it."""
    corners, axes = piece.corners(), piece.frame.axes
    middle = corners.mean(axis=0)
    local = (corners - middle) @ axes.T
    return m3.Manifold.hull_points((local - np.sign(local) * TOLERANCE / 2) @ axes + middle)
