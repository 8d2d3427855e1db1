"""Members as arrays: the convex blocks of wood they consist of, and the bores through them.

A stick without notches is one block, a notched one is several: what is tested is the wood that is there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from operator import attrgetter

import numpy as np

from panelgen.checks.blocks import stick_blocks
from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import box_corners
from panelgen.geometry.rods import Bools, Rods
from panelgen.geometry.vectors import triads, vector_rows
from panelgen.model import SQUARE, Member, Panel

__all__ = ["Bores", "Timber"]

_ONES = np.ones(3)


@dataclass(frozen=True, slots=True, eq=False)
class Bores:
    """k bores, those of one member together. `member` (k,) is its index, `number` (k,) the bore's in it.

    `point` and unit `axis` (k, 3) are panel coordinates, `radius` (k,), mm; `low` and `high` (k,) are
    where the stick begins and ends along the axis, from `point`; `boxes` are around each between them.
    `local` (k, 6) are point and axis in member coordinates.
    """

    member: Ints
    number: Ints
    point: Floats
    axis: Floats
    radius: Floats
    low: Floats
    high: Floats
    boxes: Boxes
    local: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Timber:
    """n members of some panels, and their blocks of wood.

    `panel` (n,) is the index of the panel; `sizes` (n, 3) length, width, thickness; `origins` (n, 3) and
    `axes` (n, 3, 3) place them in panel coordinates. `corners` (b, 8, 3) of the blocks are panel
    coordinates too, `owner` (b,) is the member's index. Member k has the bores from `first_bore[k]`
    on, `bore_count[k]` of them; `is_plain` (n,) where it has square ends and no notch.
    """

    members: tuple[Member, ...]
    panel: Ints
    sizes: Floats
    origins: Floats
    axes: Floats
    corners: Floats
    owner: Ints
    boxes: Boxes
    bores: Bores
    first_bore: Ints
    bore_count: Ints
    is_plain: Bools

    @classmethod
    def of(cls, panels: Sequence[Panel]) -> Timber:
        """The members of panels, in order."""
        members = tuple(member for panel in panels for member in panel.members)
        panel = np.repeat(np.arange(len(panels)), [len(one.members) for one in panels])
        frames = tuple(map(attrgetter("frame"), members))
        origins, x, y = (vector_rows(frames, attrgetter(field)) for field in ("origin", "x", "y"))
        axes = triads(x, y)
        sizes = vector_rows(members, attrgetter("length", "width", "thickness"))
        plain = _are_plain(members)
        local, owner = _blocks(members, sizes, plain)
        corners = local @ axes[owner] + origins[owner, None]
        count = _counts(members, "bores")
        return cls(
            members,
            panel,
            sizes,
            origins,
            axes,
            corners,
            owner,
            Boxes.around(corners),
            _bores(members, count, origins, axes, sizes),
            np.cumsum(count) - count,
            count,
            plain,
        )

    def runs_through(self, bore: int) -> tuple[str, ...]:
        """The runs that a bore was made for; one that covers two overlapping holes names both, joined by ``+``."""
        run = self.members[self.bores.member[bore]].bores[self.bores.number[bore]].run
        return tuple(run.split("+")) if run else ()

    @property
    def block_panel(self) -> Ints:
        """(b,) the index of each block's panel."""
        return self.panel[self.owner]


def _counts(members: Sequence[Member], field: str) -> Ints:
    """(n,) how many `field` each member has."""
    return np.fromiter(map(len, map(attrgetter(field), members)), np.int64, len(members))


def _are_plain(members: Sequence[Member]) -> Bools:
    """(n,) True for square ends and no notch."""
    plain: Bools = _counts(members, "notches") == 0
    for cuts in (map(attrgetter(end), members) for end in ("start", "end")):
        plain &= np.fromiter((cut is SQUARE or cut.is_square for cut in cuts), bool, len(members))
    return plain


def _blocks(members: Sequence[Member], sizes: Floats, plain: Bools) -> tuple[Floats, Ints]:
    """Corners (b, 8, 3) in member coordinates, and owners (b,)."""
    corners = box_corners(np.zeros_like(sizes), sizes)
    owner = np.arange(len(members))
    if plain.all():
        return corners, owner
    special = np.flatnonzero(~plain).tolist()
    shaped = [(i, block) for i in special for block in stick_blocks(members[i])]
    corners = np.concatenate((corners[plain], np.array([block for _, block in shaped]).reshape(-1, 8, 3)))
    owner = np.concatenate((owner[plain], np.array([i for i, _ in shaped], dtype=np.int64)))
    order = np.argsort(owner, kind="stable")
    return corners[order], owner[order]


def _bores(members: Sequence[Member], count: Ints, origins: Floats, axes: Floats, sizes: Floats) -> Bores:
    bores = tuple(chain.from_iterable(map(attrgetter("bores"), members)))
    point, axis = (vector_rows(bores, attrgetter(field)) for field in ("point", "axis"))
    member = np.repeat(np.arange(len(members)), count)
    number = np.arange(len(member)) - np.repeat(np.cumsum(count) - count, count)
    # The stick is a box in its own coordinates: its least and greatest height along the axis are sums over sides.
    reach = axis * sizes[member]
    base = -np.einsum("kc,kc->k", point, axis)
    low, high = base + np.minimum(reach, 0.0) @ _ONES, base + np.maximum(reach, 0.0) @ _ONES
    radius = np.fromiter(map(attrgetter("diameter"), bores), float, len(bores)) / 2
    own = axes[member]
    there = np.einsum("ki,kij->kj", point, own) + origins[member]
    along = np.einsum("ki,kij->kj", axis, own)
    flat = np.zeros(len(bores), dtype=bool)
    drills = Rods(there + low[:, None] * along, along, high - low, radius, flat, flat)
    return Bores(
        member,
        number,
        there,
        along,
        radius,
        low,
        high,
        drills.boxes(),
        np.concatenate((point, axis), axis=1),
    )
