"""Where the board under a deck ends beside a wall along the joists, so that it needs wood there."""

from __future__ import annotations

from panelgen.design.brief import Span
from panelgen.design.floors.outline import WallBand
from panelgen.design.framing.posts import BITE
from panelgen.spec.assemblies import Assembly

__all__ = ["ceiling_lines"]


def ceiling_lines(band: WallBand, assembly: Assembly) -> tuple[Span, ...]:
    """The strips across the joists on both sides of a wall where the edge of a board is fastened.

    None where boards hang on straps or on sheathing below the joists. A beam has no ceiling against it.
    """
    if band.beam or assembly.strapping is not None or assembly.inner_sheathing is not None:
        return ()
    low, high = band.body[0], band.body[2]
    return (low - BITE, low), (high, high + BITE)
