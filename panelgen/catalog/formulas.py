"""Published formulas from which catalog rows are computed."""

from __future__ import annotations

from panelgen.units import MM_PER_FOOT, parse_density, parse_mass

__all__ = ["mass_per_length", "nds_density", "sheet_density"]

_KG_PER_M = parse_mass("1 lb") / (MM_PER_FOOT / 1000)
_PCF = parse_density("1 pcf")
_WATER_PCF = 62.4
_SHRINKAGE = 0.009


def nds_density(gravity: float, moisture: float) -> float:
    """Density of wood in service, kg/m3, by the NDS formula.

    62.4 · G / (1 + 0.009 · G · mc) · (1 + mc / 100) in lb/ft3, where G is `gravity`, oven-dry weight on
    oven-dry volume, and mc is `moisture` in percent. G 0.51 at 30 % gives 36.4 lb/ft3.
    Source: NDS, note on the weight of wood (quoted with that example by a practising engineer).
    """
    return _WATER_PCF * _PCF * gravity / (1 + _SHRINKAGE * gravity * moisture) * (1 + moisture / 100)


def sheet_density(weight: float, thickness: float) -> float:
    """Density, kg/m3, of a sheet that weighs `weight` lb/ft2 and is `thickness` mm thick."""
    return weight / (thickness / MM_PER_FOOT) * _PCF


def mass_per_length(weight: float) -> float:
    """Mass of a stick, kg/m, that weighs `weight` lb/ft."""
    return weight * _KG_PER_M
