"""What panels that lie may measure and weigh: cassettes and roof panels go on the line and the truck either way."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from panelgen.design.split.limits import CRANE, SHOP, TRUCK
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import ShopLimits

__all__ = ["RACK", "SIZE", "Lying", "least_panels", "lying_limits", "narrow_enough"]

SIZE = "the size of the line"
"""The limit that is kept even where another one cannot be."""
RACK = "the longest stick in the rack"
_TRUCK_SIZE = "the size of the truck"

_EPS = 1e-6
_FARTHER = 150.0
"""Panels are lifted as if they were this much (mm) farther away, since their middle is known only nearly."""


@dataclass(frozen=True, slots=True, eq=False)
class Lying:
    """Any number of panels: `width` along the layout, `height` along the sticks (mm) and `mass` (kg), which fit one
    another's shapes, and `centre` with one axis more, the plan point where each is lifted."""

    width: Floats
    height: Floats
    mass: Floats
    centre: Callable[[], Floats]


def lying_limits(limits: ShopLimits, panels: Lying) -> dict[str, Bools]:
    """Which of the panels keep each limit, by name; limits that all of them keep, but for the first, are left out."""
    truck = limits.truck
    found = {
        SIZE: _fits(panels, limits.line_length, limits.line_height),
        _TRUCK_SIZE: _fits(panels, truck.length, truck.height),
        SHOP: panels.mass <= limits.panel_mass,
        TRUCK: panels.mass <= truck.mass,
    }
    if limits.crane is not None:
        plan = panels.centre()
        away = plan - np.array(limits.crane.at)
        far = np.maximum(np.hypot(away[..., 0], away[..., 1])[..., None], _EPS)
        found[CRANE] = panels.mass <= limits.crane.allowed(plan + away / far * _FARTHER)
    return {name: one for name, one in found.items() if name == SIZE or not one.all()}


def narrow_enough(limits: ShopLimits, width: Floats, height: Floats) -> Bools:
    """Where a panel would go on the line if only it were not too long along its sticks."""
    longest = max(limits.line_length, limits.line_height)
    clipped = np.minimum(height, longest)
    return _fits(Lying(width, clipped, width, lambda: width), limits.line_length, limits.line_height)


def least_panels(limits: ShopLimits, area: float, mass: float) -> int:
    """What no split of a field has fewer panels than, by its area (mm2) and its mass without what joints add (kg)."""
    truck = limits.truck
    largest = min(limits.line_length * limits.line_height, truck.length * truck.height)
    crane = math.inf if limits.crane is None else max(mass for _, mass in limits.crane.table)
    heaviest = min(limits.panel_mass, truck.mass, crane)
    return max(1, math.ceil(area / largest - _EPS), math.ceil(mass / heaviest - _EPS))


def _fits(panels: Lying, length: float, height: float) -> Bools:
    """Which panels are within a length and a height, either way round."""
    along = (panels.width <= length + _EPS) & (panels.height <= height + _EPS)
    result: Bools = along | ((panels.height <= length + _EPS) & (panels.width <= height + _EPS))
    return result
