"""Panels against what the line and the crane can take."""

from __future__ import annotations

import numpy as np

from panelgen.checks.codes import found
from panelgen.checks.holes.roles import WALLS
from panelgen.checks.scene import Scene
from panelgen.geometry.frames import Floats
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, ShopLimits
from panelgen.model.masses import center_of_gravity, panel_mass

__all__ = ["panel_size", "panel_too_heavy"]

_M3_PER_MM3 = 1e-9


def panel_size(scene: Scene, limits: ShopLimits) -> list[Finding]:
    """One finding for each panel longer, and one for each higher, than the line takes.

    Walls stand on the line as in the house; the panels of roofs, floors and ceilings lie on it either way.
    """
    findings = []
    for panel in scene.panels:
        length, height = panel.length, panel.height
        if panel.kind not in WALLS and (length < height) is (limits.line_length > limits.line_height):
            length, height = height, length
        for too, value, limit, field in (
            ("too long", length, limits.line_length, "shop.line_length"),
            ("too high", height, limits.line_height, "shop.line_height"),
        ):
            if value > limit + TOLERANCE:
                findings.append(
                    found(
                        "panel.size",
                        panel,
                        point=(panel.length / 2, panel.height / 2, 0.0),
                        value=value,
                        limit=limit,
                        source=f"spec {field}",
                        too=too,
                    )
                )
    return findings


def panel_too_heavy(scene: Scene, limits: ShopLimits) -> list[Finding]:
    """One finding for each panel heavier than the shop lifts, at its centre of gravity.

    Exact masses are worked out only for panels that whole sticks and sheets would make too heavy.
    """
    findings = []
    for index in np.flatnonzero(_at_most(scene) > limits.panel_mass).tolist():
        panel = scene.panels[index]
        mass = panel_mass(panel)
        if mass > limits.panel_mass:
            findings.append(
                found(
                    "panel.mass",
                    panel,
                    point=center_of_gravity(panel),
                    value=mass,
                    limit=limits.panel_mass,
                    unit="kg",
                    source="spec shop.panel_mass",
                )
            )
    return findings


def _at_most(scene: Scene) -> Floats:
    """(p,) kg that no panel exceeds: sticks before they are cut and bored, sheets without cut-outs, insulation."""
    timber, sheeting = scene.timber, scene.sheeting
    sticks = timber.sizes.prod(axis=1) * np.array([member.density for member in timber.members])
    sheets = (sheeting.boxes.high - sheeting.boxes.low).prod(axis=1) * np.array([s.density for s in sheeting.sheets])
    count = len(scene.panels)
    wood = np.bincount(timber.panel, sticks, count) + np.bincount(sheeting.panel, sheets, count)
    result: Floats = wood * _M3_PER_MM3 + np.array([sum(bay.mass for bay in panel.bays) for panel in scene.panels])
    return result
