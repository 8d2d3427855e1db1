"""Straps under a ceiling or floor: across the joists, in rows, and beside the walls that they stop at."""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.design.extents import Extent
from panelgen.design.floors.brief import CassetteBrief
from panelgen.design.floors.outline import WallBand
from panelgen.design.straps.cavity import row_heights
from panelgen.design.straps.layer import StrapLayer
from panelgen.design.straps.obstacles import STRAP_CLEARANCE
from panelgen.model import Box, Finding, Layer, LayerKind, Member, RunPart, Why

__all__ = ["straps"]

_ROW = Why("strap.row", "strap of the service cavity, across the joists", "spec strapping spacing")
_EDGE = Why("strap.wall", "takes the edge of the board beside a wall", "common practice, no source")


def straps(
    brief: CassetteBrief, members: Sequence[Member], runs: Sequence[RunPart], boxes: Sequence[Box]
) -> tuple[tuple[Member, ...], tuple[Finding, ...]]:
    """The straps of a cassette, and what could not be placed; none where the assembly has no strapping.

    They stop at openings, at the walls below, and clear of runs and boxes in the cavity.
    """
    panel, spec = brief.panel, brief.panel.assembly.strapping
    if spec is None:
        return (), ()
    layer = next(layer for layer in panel.layers if layer.kind is LayerKind.STRAPPING)
    cavity = StrapLayer(panel, layer, spec, members, runs, boxes, [_body(band, layer) for band in brief.below])
    width = cavity.stock.width
    last = panel.height - width
    for band in brief.below:
        x0, y0, x1, y1 = band.body
        for side, y in (("low", y0 - STRAP_CLEARANCE - width), ("high", y1 + STRAP_CLEARANCE)):
            if not band.is_along and 0.0 <= y <= last:
                cavity.lay(f"strap-{band.wall}-{side}-{brief.place}", y, (x0, x1), _EDGE)
    for number, y in enumerate(row_heights(last, width, spec.spacing)):
        cavity.lay(f"strap-row-{brief.place}-{number}", y, panel.strap_span, _ROW, from_right=number % 2 == 1)
    return tuple(cavity.members), tuple(cavity.findings)


def _body(band: WallBand, layer: Layer) -> Extent:
    """The place of a wall in the cavity, with room beside it."""
    x0, y0, x1, y1 = band.body
    gap = STRAP_CLEARANCE
    return Extent(x0 - gap, x1 + gap, y0 - gap, y1 + gap, layer.z0, layer.z1)
