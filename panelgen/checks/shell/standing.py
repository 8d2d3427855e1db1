"""What stands in the assembled house as convex blocks: the sticks and sheets of panels, and supplied trusses."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Boxes, Ints, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import box_corners
from panelgen.geometry.lofts import Ring
from panelgen.geometry.rods import Bools
from panelgen.geometry.trapezoids import trapezoids
from panelgen.geometry.vectors import triads
from panelgen.model import Member, Panel, Role, Sheet, Truss
from panelgen.model.truss_bodies import truss_body, truss_frame

__all__ = ["Standing"]


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """b convex blocks: the wood of sticks, then sheets, then trusses, the last two as the boxes around them.

    `owner` (b,) is the number of the panel or, after all of those, of the truss; `part` (b,) that of the member,
    sheet or truss. `loose` (b,) are parts that the crew fixes on site. `corners` (b, 8, 3) and `boxes` are house
    coordinates, `own` boxes those of the owner; `origins` (o, 3) and `axes` (o, 3, 3) place the owners. `carries` (b,)
    is whether something may bear on a block, or it on something: not on blocking, which keeps sticks upright.
    `strap` (b,) are straps, which carry nothing from above but what is fixed to them.
    """

    scene: Scene
    trusses: tuple[Truss, ...]
    owner: Ints
    part: Ints
    is_stick: Bools
    loose: Bools
    carries: Bools
    strap: Bools
    corners: Floats
    boxes: Boxes
    own: Boxes
    origins: Floats
    axes: Floats

    @classmethod
    def of(cls, scene: Scene, trusses: Sequence[Truss] = ()) -> Standing:
        """The blocks of all parts of the panels, and of the trusses."""
        timber, sheeting = scene.timber, scene.sheeting
        around = _around(trusses)
        boxes = (box_corners(part.low, part.high) for part in (sheeting.boxes, around))
        local = np.concatenate((timber.corners, *boxes))
        count = np.arange(len(trusses))
        owner = np.concatenate((timber.block_panel, sheeting.panel, len(scene.panels) + count))
        loose = [*(member.loose for member in timber.members), *(sheet.loose for sheet in sheeting.sheets)]
        number = np.concatenate((timber.owner, len(timber.members) + np.arange(len(sheeting.sheets))))
        carries = np.array([member.role is not Role.BLOCKING for member in timber.members], dtype=bool)[timber.owner]
        strap = np.array([member.role is Role.STRAP for member in timber.members], dtype=bool)[timber.owner]
        others = np.zeros(len(owner) - len(strap), dtype=bool)
        origins, axes = _places(scene, trusses)
        corners = local @ axes[owner] + origins[owner, None]
        return cls(
            scene,
            tuple(trusses),
            owner,
            np.concatenate((timber.owner, np.arange(len(sheeting.sheets)), count)),
            np.arange(len(owner)) < len(timber.owner),
            np.concatenate((np.array(loose, dtype=bool)[number], np.zeros(len(trusses), dtype=bool))),
            np.concatenate((carries, ~others)),
            np.concatenate((strap, others)),
            corners,
            Boxes.around(corners),
            Boxes.around(local),
            origins,
            axes,
        )

    def near_pairs(self, rows: Ints, grown: float) -> tuple[Ints, Ints]:
        """Blocks among `rows` of two owners, that of the earlier one first, whose boxes overlap.

        Boxes are `grown` on every side, mm; less than 0 shrinks them.
        """
        boxes, owner = self.boxes.take(rows).grown(grown), self.owner[rows]
        count = len(self.origins)
        guest, host = overlapping(boxes, boxes.around_groups(owner, count))
        apart = np.flatnonzero(owner[guest] != host)
        guest, host = guest[apart], host[apart]
        pair = np.minimum(owner[guest], host) * count + np.maximum(owner[guest], host)
        _, pair = np.unique(pair, return_inverse=True)
        first: Bools = np.less(owner[guest], host)
        a, b = guest[first], guest[~first]
        i, j = overlapping(boxes.take(a), boxes.take(b), pair[first], pair[~first])
        return rows[a[i]], rows[b[j]]

    def meet(self, guest: Ints, host: Ints, grown: float) -> Bools:
        """Whether boxes around the guests, along the axes of the hosts' owners, overlap those of the hosts."""
        owner = self.owner[host]
        local = (self.corners[guest] - self.origins[owner, None]) @ np.swapaxes(self.axes[owner], 1, 2)
        boxes, own = Boxes.around(local).grown(grown), self.own.take(host).grown(grown)
        meet: Bools = np.all((boxes.low < own.high) & (own.low < boxes.high), axis=1)
        return meet

    def pieces(self, used: Ints) -> tuple[Floats, Ints, Ints]:
        """House corners (m, 8, 3) of convex pieces of blocks, and the first piece (b,) and the count (b,) of each.

        A block is one piece, unless it is a truss among those `used`, or a sheet that is no rectangle; round holes
        are left filled.
        """
        first, count = np.arange(len(self.owner)), np.ones(len(self.owner), dtype=np.int64)
        corners, total = [self.corners], len(self.owner)
        for block in used[~self.is_stick[used]].tolist():
            part = self.part_of(block)
            if isinstance(part, Truss):
                pieces = _truss_pieces(part)
            elif isinstance(part, Sheet) and not _is_rectangle(part):
                pieces = _sheet_pieces(part, self.scene.panels[self.owner[block]])
            else:
                continue
            first[block], count[block] = total, len(pieces)
            corners.append(pieces)
            total += len(pieces)
        return np.concatenate(corners), first, count

    def part_of(self, block: int) -> Member | Sheet | Truss:
        """What a block is of."""
        number = int(self.part[block])
        if self.owner[block] >= len(self.scene.panels):
            return self.trusses[number]
        return self.scene.timber.members[number] if self.is_stick[block] else self.scene.sheeting.sheets[number]


def _around(trusses: Sequence[Truss]) -> Boxes:
    """The boxes around trusses in the coordinates of their bodies."""
    points = [np.array(truss.outline) for truss in trusses]
    low = [(*ring.min(axis=0), 0.0) for ring in points]
    high = [(*ring.max(axis=0), truss.thickness) for ring, truss in zip(points, trusses, strict=True)]
    return Boxes(np.array(low).reshape(-1, 3), np.array(high).reshape(-1, 3))


def _places(scene: Scene, trusses: Sequence[Truss]) -> tuple[Floats, Floats]:
    """Origins (o, 3) and axes (o, 3, 3) of panels and trusses in the house."""
    origins, axes = scene.frames()
    frames = [truss_frame(truss) for truss in trusses]
    table = np.array([(*frame.origin, *frame.x, *frame.y) for frame in frames]).reshape(-1, 9)
    return np.concatenate((origins, table[:, :3])), np.concatenate((axes, triads(table[:, 3:6], table[:, 6:])))


def _is_rectangle(sheet: Sheet) -> bool:
    xs, ys = ({point[axis] for point in sheet.outline} for axis in (0, 1))
    return len(sheet.outline) == 4 and not sheet.cutouts and len(xs) == len(ys) == 2


def _truss_pieces(truss: Truss) -> Floats:
    """(n, 8, 3) house corners of the prisms that the body of a truss consists of."""
    (loft,) = truss_body(truss).lofts
    outline, *hollow = loft.near
    return truss_frame(truss).to_parent(_prisms(outline, tuple(hollow), truss.thickness)).reshape(-1, 8, 3)


def _sheet_pieces(sheet: Sheet, panel: Panel) -> Floats:
    """(n, 8, 3) house corners of the prisms that a sheet consists of."""
    local = _prisms(sheet.outline, sheet.cutouts, sheet.thickness)
    return panel.frame.to_parent(sheet.frame.to_parent(local)).reshape(-1, 8, 3)


@lru_cache(maxsize=4096)
def _prisms(outline: Ring, holes: tuple[Ring, ...], thickness: float) -> Floats:
    """(8 n, 3) corners of upright prisms that a flat body consists of."""
    face = trapezoids(outline, holes).reshape(-1, 1, 4, 2)
    corners = np.empty((len(face), 2, 4, 3))
    corners[..., :2] = face
    corners[..., 2] = np.array((0.0, thickness))[:, None]
    return corners.reshape(-1, 3)
