"""Members as arrays: the convex blocks of wood they consist of, and the bores through them.

A stick without notches is one block, a notched one is several: what is tested is the wood that is there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.checks.blocks import stick_blocks
from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import box_corners
from panelgen.geometry.rods import Bools
from panelgen.model import Member, Panel

__all__ = ["Bores", "Timber"]


@dataclass(frozen=True, slots=True, eq=False)
class Bores:
    """k bores, those of one member together. `member` (k,) is its index, `number` (k,) the bore's in it.

    `point` and unit `axis` (k, 3) are panel coordinates, `radius` (k,), mm; `low` and `high` (k,) are
    where the stick begins and ends along the axis, from `point`. `local` (k, 6) are point and axis in
    member coordinates.
    """

    member: Ints
    number: Ints
    point: Floats
    axis: Floats
    radius: Floats
    low: Floats
    high: Floats
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
        rows = [(*m.frame.origin, *m.frame.x, *m.frame.y, m.length, m.width, m.thickness) for m in members]
        table = np.array(rows, dtype=float).reshape(-1, 12)
        origins, sizes = table[:, :3], table[:, 9:]
        axes = np.stack((table[:, 3:6], table[:, 6:9], np.cross(table[:, 3:6], table[:, 6:9])), axis=1)
        local, owner = _blocks(members, sizes)
        corners = np.einsum("bvi,bij->bvj", local, axes[owner]) + origins[owner, None]
        count = np.array([len(member.bores) for member in members], dtype=np.int64)
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
            np.array([member.has_square_ends and not member.notches for member in members], dtype=bool),
        )

    def runs_through(self, bore: int) -> tuple[str, ...]:
        """The runs that a bore was made for; one that covers two overlapping holes names both, joined by ``+``."""
        run = self.members[self.bores.member[bore]].bores[self.bores.number[bore]].run
        return tuple(run.split("+")) if run else ()

    @property
    def block_panel(self) -> Ints:
        """(b,) the index of each block's panel."""
        return self.panel[self.owner]


def _blocks(members: Sequence[Member], sizes: Floats) -> tuple[Floats, Ints]:
    """Corners (b, 8, 3) in member coordinates, and owners (b,)."""
    corners = box_corners(np.zeros_like(sizes), sizes)
    owner = np.arange(len(members))
    special = [i for i, member in enumerate(members) if member.notches or not member.has_square_ends]
    if not special:
        return corners, owner
    shaped = [(i, block) for i in special for block in stick_blocks(members[i])]
    plain = np.setdiff1d(owner, special)
    corners = np.concatenate((corners[plain], np.array([block for _, block in shaped]).reshape(-1, 8, 3)))
    owner = np.concatenate((plain, np.array([i for i, _ in shaped], dtype=np.int64)))
    order = np.argsort(owner, kind="stable")
    return corners[order], owner[order]


def _bores(members: Sequence[Member], count: Ints, origins: Floats, axes: Floats, sizes: Floats) -> Bores:
    rows = [(*bore.point, *bore.axis, bore.diameter / 2) for member in members for bore in member.bores]
    table = np.array(rows, dtype=float).reshape(-1, 7)
    member = np.repeat(np.arange(len(members)), count)
    number = np.arange(len(member)) - np.repeat(np.cumsum(count) - count, count)
    point, axis = table[:, :3], table[:, 3:6]
    # The stick is a box in its own coordinates: its least and greatest height along the axis are sums over sides.
    reach = axis * sizes[member]
    base = -np.einsum("kc,kc->k", point, axis)
    return Bores(
        member,
        number,
        np.einsum("ki,kij->kj", point, axes[member]) + origins[member],
        np.einsum("ki,kij->kj", axis, axes[member]),
        table[:, 6],
        base + np.minimum(reach, 0.0).sum(axis=1),
        base + np.maximum(reach, 0.0).sum(axis=1),
        table[:, :6],
    )
