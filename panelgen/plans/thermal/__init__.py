"""Resistance and transmittance of panels and house: ISO 6946 combined method and parallel paths."""

from panelgen.plans.thermal.combine import Limits, Section, limits
from panelgen.plans.thermal.houses import HouseThermal, house_thermal, thermal_json, thermal_text
from panelgen.plans.thermal.panels import PanelThermal, is_shell, panel_thermal

__all__ = [
    "HouseThermal",
    "Limits",
    "PanelThermal",
    "Section",
    "house_thermal",
    "is_shell",
    "limits",
    "panel_thermal",
    "thermal_json",
    "thermal_text",
]
