"""Where the screws of the interior board go: in and beside each stick behind a face that the board hangs on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.checks.timber import Timber
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import box_corners
from panelgen.geometry.rods import Bools
from panelgen.model import Layer, LayerKind, Panel, PanelKind

__all__ = ["ScrewZones"]

_FACING = 1.0 - 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class ScrewZones:
    """n zones: `member` (n,) is the index of the stick that the screws are meant for.

    `low` and `high` (n, 3) bound the zone in the stick's coordinates, mm. `open_beside` (n, 3) is True for
    the directions in which a screw that misses the stick goes on: along a strap and across it.
    """

    member: Ints
    low: Floats
    high: Floats
    open_beside: Bools

    @classmethod
    def of(cls, panels: Sequence[Panel], timber: Timber, depth: float) -> ScrewZones:
        """The zones up to `depth` behind the faces of the panels, mm.

        Where there are no straps the board hangs on the framing, of an interior wall on both faces, and
        its screws go into the sticks.
        """
        carriers = [_carrier(panel) for panel in panels]
        names = [carrier.name for carrier in carriers]
        home = zip(timber.members, timber.panel.tolist(), strict=True)
        rows = np.flatnonzero([member.layer == names[panel] for member, panel in home])
        panel = timber.panel[rows]
        strapped = np.array([layer.kind is LayerKind.STRAPPING for layer in carriers], dtype=bool)
        twofold = np.array([one.kind is PanelKind.INTERIOR_WALL for one in panels], dtype=bool) & ~strapped
        near, far = np.array([one.depth for one in panels], dtype=float).reshape(-1, 2).T
        sides = (
            _behind(timber, rows, (near + depth)[panel], strapped[panel], 1.0),
            _behind(timber, rows, np.where(twofold, depth - far, -np.inf)[panel], strapped[panel], -1.0),
        )
        return cls(
            np.concatenate([side.member for side in sides]),
            np.concatenate([side.low for side in sides]),
            np.concatenate([side.high for side in sides]),
            np.concatenate([side.open_beside for side in sides]),
        )

    def corners(self, timber: Timber, rows: Ints, beside: Floats) -> Floats:
        """(m, 8, 3) the zones of these rows in panel coordinates, `beside` (m,) mm wider where they are open."""
        member, margin = self.member[rows], np.where(self.open_beside[rows], beside[:, None], 0.0)
        local = box_corners(self.low[rows] - margin, self.high[rows] + margin)
        result: Floats = np.einsum("nvi,nij->nvj", local, timber.axes[member]) + timber.origins[member, None]
        return result


def _carrier(panel: Panel) -> Layer:
    """The layer that the board is screwed to."""
    return next((layer for layer in panel.layers if layer.kind is LayerKind.STRAPPING), panel.framing)


def _behind(timber: Timber, rows: Ints, deepest: Floats, strapped: Bools, sense: float) -> ScrewZones:
    """The zones of the sticks `rows` from their own face inward to the depth `deepest` (n,).

    Depths are counted in the sense in which the screws go: panel z times `sense`. A stick that has no side
    in the face of the panel, or is wholly behind the zone, has none.
    """
    facing = sense * timber.axes[rows, :, 2]
    side = np.abs(facing).argmax(axis=1)
    at = np.arange(len(rows))
    turn, size = facing[at, side], timber.sizes[rows, side]
    reach = deepest - sense * timber.origins[rows, 2] - np.minimum(0.0, turn * size)
    low, high = np.zeros((len(rows), 3)), timber.sizes[rows].copy()
    low[at, side] = np.where(turn > 0, 0.0, size - reach)
    high[at, side] = np.where(turn > 0, reach, size)
    open_beside = np.repeat(strapped[:, None], 3, axis=1)
    open_beside[at, side] = False
    kept = np.flatnonzero((np.abs(turn) > _FACING) & (reach > 0.0))
    return ScrewZones(rows[kept], low[kept], high[kept], open_beside[kept])
