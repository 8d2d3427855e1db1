"""Where the screws of the interior board go: in and beside each stick behind a face that the board hangs on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.checks.timber import Timber
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import box_corners
from panelgen.model import Layer, LayerKind, Panel, PanelKind

__all__ = ["ScrewZones"]

_FACING = 1.0 - 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class ScrewZones:
    """n zones: `member` (n,) the index of the stick that the screws are meant for, `corners` (n, 8, 3) of the zone
    in panel coordinates, mm.
    """

    member: Ints
    corners: Floats

    @classmethod
    def of(cls, panels: Sequence[Panel], timber: Timber, depth: float, beside: float) -> ScrewZones:
        """The zones up to `depth` behind the faces of the panels, and as far as `beside` from a strap, mm.

        Where there are no straps the board hangs on the framing, of an interior wall on both faces, and
        its screws go into the sticks.
        """
        carriers = [_carrier(panel) for panel in panels]
        home = zip(timber.members, timber.panel.tolist(), strict=True)
        names = [carrier.name for carrier in carriers]
        rows = np.flatnonzero([member.layer == names[panel] for member, panel in home])
        strapped = np.array([layer.kind is LayerKind.STRAPPING for layer in carriers], dtype=bool)
        twofold = np.array([panel.kind is PanelKind.INTERIOR_WALL for panel in panels], dtype=bool) & ~strapped
        low, high = np.array([panel.depth for panel in panels], dtype=float).reshape(-1, 2).T
        margin = np.where(strapped, beside, 0.0)[timber.panel[rows]]
        room = _behind(timber, rows, (low + depth)[timber.panel[rows]], margin, 1.0)
        far = _behind(timber, rows, np.where(twofold, depth - high, -np.inf)[timber.panel[rows]], margin, -1.0)
        return cls(np.concatenate((room.member, far.member)), np.concatenate((room.corners, far.corners)))


def _carrier(panel: Panel) -> Layer:
    """The layer that the board is screwed to."""
    return next((layer for layer in panel.layers if layer.kind is LayerKind.STRAPPING), panel.framing)


def _behind(timber: Timber, rows: Ints, deepest: Floats, margin: Floats, sense: float) -> ScrewZones:
    """The zones of the sticks `rows` from their own face inward to the depth `deepest` (n,).

    Depths are counted in the sense in which the screws go: panel z times `sense`. A stick that has no side
    in the face of the panel, or is wholly behind the zone, has none.
    """
    facing = sense * timber.axes[rows, :, 2]
    side = np.abs(facing).argmax(axis=1)
    at = np.arange(len(rows))
    turn, size = facing[at, side], timber.sizes[rows, side]
    reach = deepest - sense * timber.origins[rows, 2] - np.minimum(0.0, turn * size)
    kept = np.flatnonzero((np.abs(turn) > _FACING) & (reach > 0.0))
    at, side, turn, size, reach = np.arange(len(kept)), side[kept], turn[kept], size[kept], reach[kept]
    margin, rows = margin[kept], rows[kept]
    low = np.repeat(-margin[:, None], 3, axis=1)
    high = timber.sizes[rows] + margin[:, None]
    low[at, side] = np.where(turn > 0, 0.0, size - reach)
    high[at, side] = np.where(turn > 0, reach, size)
    corners = np.einsum("nvi,nij->nvj", box_corners(low, high), timber.axes[rows]) + timber.origins[rows, None]
    return ScrewZones(rows, corners)
