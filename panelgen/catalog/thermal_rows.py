"""Rows of the thermal tables, SI: conductivities W/(m K), resistances m2 K/W."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from panelgen.catalog.rows import Fact

__all__ = [
    "Conductivity",
    "FramingShare",
    "HeatFlow",
    "RestrictedInsulation",
    "Restriction",
    "SurfacePlace",
    "SurfaceResistance",
    "ThermalMethod",
]

ThermalMethod = Literal["iso-6946", "parallel-path"]
HeatFlow = Literal["horizontal", "up", "down"]
SurfacePlace = Literal["inside", "outside", "air space"]
Restriction = Literal["batt", "blown", "uniform"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Conductivity(Fact):
    """How well a material conducts heat, from the resistance published for one thickness of it."""

    name: str
    conductivity: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceResistance(Fact):
    """What a method takes for the air at a surface or in an unventilated space, by the direction of heat flow."""

    method: ThermalMethod
    flow: HeatFlow
    place: SurfacePlace
    resistance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FramingShare(Fact):
    """The share of wood, net of openings, that a source assumes for a part of the house where nobody measures it.

    `spacing` is that of the studs, mm, infinite for any.
    """

    part: Literal["walls", "floors", "ceilings"]
    spacing: float
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RestrictedInsulation(Fact):
    """What is left of the resistance where insulation is pressed to `ratio` of its full thickness, shares of 1.

    `batt` and `blown` taper from full thickness to that of the edge; `uniform` is pressed all over.
    """

    ratio: float
    batt: float
    blown: float
    uniform: float
