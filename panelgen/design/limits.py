"""What the shop, its crane and its truck can take, from the spec as the model keeps it."""

from __future__ import annotations

import math

from panelgen.model import Crane, ShopLimits, Truck
from panelgen.model.handling import NO_TRUCK
from panelgen.spec.house import Shop

__all__ = ["shop_limits"]


def shop_limits(shop: Shop) -> ShopLimits:
    """The limits that panels are split and checked by."""
    crane = Crane(shop.crane.at, tuple((row.radius, row.mass) for row in shop.crane.table)) if shop.crane else None
    truck = shop.truck
    most = NO_TRUCK if truck is None else Truck(*(one or math.inf for one in (truck.length, truck.height, truck.mass)))
    return ShopLimits(shop.line_length, shop.line_height, shop.panel_mass, shop.shortest_member, crane, most)
