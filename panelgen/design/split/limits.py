"""Which stretches of a wall may be panels: what the line, the hands, the crane and the truck can take."""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Sequence

import numpy as np

from panelgen.design.brief import PanelBrief
from panelgen.design.framing.sticks import stock_of
from panelgen.design.sheathing.faces import Side, sheathing_on
from panelgen.design.split.masses import StretchMasses
from panelgen.design.split.stops import Stops
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import Crane, ShopLimits

__all__ = ["CRANE", "LINE", "SHOP", "TRUCK", "limits_of", "with_crane"]

LINE = "the length of the line"
"""The limit that is kept even where another one cannot be."""
CRANE = "what the crane lifts at its radius"
SHOP = "the mass that the shop moves"
TRUCK = "the mass of the truck"

_MOST_WOOD = 0.6
"""No panel of any length to speak of has a greater share of wood in its framing; common practice, no source."""

_M3_PER_MM3 = 1e-9
_EPS = 1e-6
_SIDES: tuple[Side, ...] = ("outer", "inner")


def limits_of(
    whole: PanelBrief,
    limits: ShopLimits,
    places: Stops,
    masses: Callable[[], StretchMasses],
) -> dict[str, Bools]:
    """(n, n) for each limit, by name: True at [i, j] where a panel from stop i to j > i keeps it.

    `places` are the ends of the wall and where panels may meet. A limit that every stretch keeps, or that no split can
    change, is left out. `masses` is asked only where some stretch could be too heavy.
    """
    stops = places.at
    found = {LINE: places.allowed(whole.shop.shortest_panel, limits.line_length)}
    lengths = np.subtract.outer(np.array(stops), np.array(stops)).T
    if not whole.is_level:
        found["the height of the line"] = _heights(whole, stops) <= limits.line_height + _EPS
        if limits.truck.height < math.inf:
            found["the height of the truck"] = _heights(whole, stops) <= limits.truck.height + _EPS
    if limits.truck.length < math.inf:
        found["the length of the truck"] = _with_laps(whole, lengths) <= limits.truck.length + _EPS
    most = _heaviest(whole) * lengths[found[LINE]].max(initial=0.0)
    for name, limit in ((SHOP, limits.panel_mass), (TRUCK, limits.truck.mass)):
        if most > limit:
            found[name] = masses().mass <= limit
    if limits.crane is not None:
        weighed = masses()
        found[CRANE] = weighed.mass <= _lifted(whole, limits.crane, weighed)
    return {name: one for name, one in found.items() if name == LINE or not one[np.triu_indices(len(stops), 1)].all()}


def with_crane(ways: str, binding: Container[str]) -> str:
    """What would help, and where the crane is among the limits in the way, what it could do and who decides."""
    lift = ", or lift from nearer; the crane's own load chart and a qualified person decide"
    return ways + lift if CRANE in binding else ways


def _heights(whole: PanelBrief, stops: Sequence[float]) -> Floats:
    """(n, n) greatest height of each stretch, mm."""
    at = [*stops, *(x for x, _ in whole.top)]
    heights = np.array([whole.top_at(x) for x in at])
    places = np.array(at)
    low, high = np.meshgrid(np.array(stops), np.array(stops), indexing="ij")
    there = (places >= low[..., None] - _EPS) & (places <= high[..., None] + _EPS)
    result: Floats = np.where(there, heights, 0.0).max(axis=2)
    return result


def _with_laps(whole: PanelBrief, lengths: Floats) -> Floats:
    """(n, n) lengths with what sheathing reaches beyond the framing at the ends of the wall, mm."""
    spans = (whole.outer_span, whole.inner_span, whole.strap_span)
    result = lengths.copy()
    result[0] += max(0.0, *(-span[0] for span in spans))
    result[:, -1] += max(0.0, *(span[1] - whole.length for span in spans))
    return result


def _heaviest(whole: PanelBrief) -> float:
    """Kg per mm of wall that no panel exceeds, without a look at its sticks."""
    framing = whole.assembly.framing
    wood = stock_of(whole.catalog, framing.stock, framing.species, framing.grade).density
    filling = whole.catalog.insulation(framing.insulation).density if framing.insulation else 0.0
    area = whole.framing_depth * (_MOST_WOOD * wood + (1.0 - _MOST_WOOD) * filling)
    for layer in (sheathing_on(whole, side) for side in _SIDES):
        if layer is not None:
            area += layer.thickness * whole.catalog.sheet(layer.product).density
    if whole.assembly.strapping is not None:
        area += whole.catalog.stock(whole.assembly.strapping.stock).thickness * wood
    return area * whole.height * _M3_PER_MM3


def _lifted(whole: PanelBrief, crane: Crane, weighed: StretchMasses) -> Floats:
    """(n, n) kg that the crane lifts at the middle of each stretch's mass."""
    frame = whole.frame
    place = np.array(frame.point(0.0, 0.0, whole.framing_depth / 2))
    return crane.allowed((place + weighed.centre[..., None] * np.array(frame.x))[..., :2])
