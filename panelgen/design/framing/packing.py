"""Wood behind a header that is thinner than its wall: a header lies flush with the weather side.

Short sticks fill what is left behind it, on the stud layout, so that the joints of the inner sheathing, boards and
straps find the wood there that studs give them elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from panelgen.catalog import RuleSet
from panelgen.design.brief import PanelBrief
from panelgen.design.extents import extent_of
from panelgen.design.fastening.lines import COVER
from panelgen.design.framing.sticks import Stock, stock_of, upright
from panelgen.model import Member, Role, Why

__all__ = ["packing"]

_EPS = 1e-6
_WHY = Why(
    "header.packing",
    "stands behind the header on the stud layout: backs joints of the inner sheathing, boards and straps",
    "common practice, no source",
)


def packing(brief: PanelBrief, plies: Sequence[Member], stock: Stock, rules: RuleSet, name: str) -> Iterator[Member]:
    """Packing behind the `plies` of one header, as high as they are, wherever the layout has room for it.

    It is ripped from the narrowest stick as thick as `stock` that reaches from the inner face to the header. None
    stands in a wall without inner sheathing, or where the nails of that would come out of it. Raises CatalogError
    where the rule set does not say how that sheathing is nailed.
    """
    boxes = [extent_of(ply) for ply in plies]
    depth = min((box.z0 for box in boxes), default=0.0)
    if depth < stock.thickness - _EPS or depth < _least_depth(brief, rules) - _EPS:
        return
    wide = min(
        (
            one
            for one in brief.catalog.lumber.values()
            if one.thickness == stock.thickness and one.width >= depth - _EPS
        ),
        key=lambda one: one.width,
    )
    ripped = replace(stock_of(brief.catalog, wide.name, stock.species, stock.grade), width=depth)
    x0, x1 = max(box.x0 for box in boxes), min(box.x1 for box in boxes)
    for centre in brief.layout:
        x = centre - stock.thickness / 2
        if x0 - _EPS <= x and x + stock.thickness <= x1 + _EPS:
            place = f"{name}-{brief.layout_number(centre)}"
            yield upright(place, Role.CRIPPLE, ripped, x, boxes[0].y0, boxes[0].y1, 0.0, _WHY)


def _least_depth(brief: PanelBrief, rules: RuleSet) -> float:
    """The least depth of wood (mm) that the nails of the inner sheathing stay in; infinite without such sheathing."""
    spec = brief.assembly.inner_sheathing
    if spec is None:
        return float("inf")
    product = brief.catalog.sheet(spec.product)
    nail = brief.catalog.fastener(rules.sheet_nailing(product.thickness, product.kind).fastener)
    return nail.length - product.thickness + COVER
