"""Panels against what the truck carries and what the crane lifts where they are set."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from panelgen.checks.codes import found
from panelgen.checks.holes.roles import WALLS
from panelgen.checks.scene import Scene
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, Panel, ShopLimits
from panelgen.model.handling import NO_TRUCK
from panelgen.model.masses import center_of_gravity, panel_mass

__all__ = ["too_much_for_the_crane", "too_much_for_the_truck"]


def too_much_for_the_truck(scene: Scene, limits: ShopLimits) -> Iterator[Finding]:
    """One finding for each limit of the truck that a panel breaks; walls stand on it, all others lie either way."""
    truck = limits.truck
    if truck == NO_TRUCK:
        return
    for panel in scene.panels:
        length, height = _outside(panel)
        if panel.kind not in WALLS and (length < height) is (truck.length > truck.height):
            length, height = height, length
        for too, value, limit, unit in (
            ("long", length, truck.length, "mm"),
            ("high", height, truck.height, "mm"),
            ("heavy", panel_mass(panel) if truck.mass < math.inf else 0.0, truck.mass, "kg"),
        ):
            if value > limit + TOLERANCE:
                yield found(
                    "panel.truck",
                    panel,
                    point=(panel.length / 2, panel.height / 2, 0.0),
                    value=value,
                    limit=limit,
                    unit=unit,
                    source="spec shop.truck",
                    too=too,
                )


def too_much_for_the_crane(scene: Scene, limits: ShopLimits) -> Iterator[Finding]:
    """One finding for each panel that the rows of the crane's chart do not allow where it is set, at its centre of
    gravity there."""
    if limits.crane is None:
        return
    for panel in scene.panels:
        mass, centre = panel_mass(panel), center_of_gravity(panel)
        limit = float(limits.crane.allowed(np.array(panel.frame.point(*centre)[:2])))
        if mass > limit:
            yield found(
                "panel.crane",
                panel,
                point=centre,
                value=mass,
                limit=limit,
                unit="kg",
                source="spec shop.crane",
            )


def _outside(panel: Panel) -> tuple[float, float]:
    """Length and height over framing and sheets, mm."""
    boxes = [
        (x + u, y + v)
        for sheet in panel.sheets
        if not sheet.loose
        for x, y, _ in (sheet.frame.origin,)
        for u, v in sheet.outline
    ]
    xs = [0.0, panel.length, *(x for x, _ in boxes)]
    ys = [0.0, panel.height, *(y for _, y in boxes)]
    return max(xs) - min(xs), max(ys) - min(ys)
