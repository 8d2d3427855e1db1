"""The strength of a wall stud by NDS, as a guide for the engineer where the stud tables end.

A stud is held sideways by its sheathing, so only bending through the wall and buckling that way count.
Stresses and moduli are MPa, lengths mm, line loads N/mm of wall, pressures kPa.
Sources: NDS 3.6 to 3.9 (interaction, FcE and the limits read in published stud results; the column stability
factor's c = 0.8 reproduces them).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from panelgen.catalog import Lumber
from panelgen.catalog.structure import Strengths
from panelgen.catalog.structure_rows import DesignValues, SizeFactor

__all__ = ["LineLoads", "StudResult", "column_stability", "stud_result"]

_EULER = 0.822
_SAWN = 0.8
_MOST_SLENDER = 50.0
_PA_PER_KPA = 1e-3
_BEARING_EXTRA = 9.525
"""NDS 3.10.4: bearing shorter than 6 in. counts 3/8 in. longer."""


@dataclass(frozen=True, slots=True)
class LineLoads:
    """What comes down on a wall, N/mm of its length."""

    dead: float
    live: float
    snow: float


@dataclass(frozen=True, slots=True)
class StudResult:
    """Shares of a stud's capacity that load combinations take, 1 is all of it, and its bend.

    `dead_wind`, `dead_live_snow_wind` are bending with compression; `dead_live_snow` and `dead_live` compression
    alone; `plate` is crushing of a plate under the stud. `bend` is mm.
    """

    dead_wind: float
    dead_live_snow_wind: float
    dead_live_snow: float
    dead_live: float
    plate: float
    bend: float

    @property
    def worst(self) -> float:
        """The greatest share."""
        return max(self.dead_wind, self.dead_live_snow_wind, self.dead_live_snow, self.dead_live, self.plate)


def column_stability(euler: float, crushing: float) -> float:
    """The column stability factor CP of sawn lumber, for the stresses FcE and Fc*, MPa.

    (1 + a) / 2c - sqrt(((1 + a) / 2c)² - a / c) with a = FcE / Fc* and c = 0.8. Source: NDS 3.7.1.
    """
    ratio = euler / crushing
    middle = (1 + ratio) / (2 * _SAWN)
    return middle - math.sqrt(middle**2 - ratio / _SAWN)


def stud_result(
    stock: Lumber,
    values: DesignValues,
    size: SizeFactor,
    strengths: Strengths,
    length: float,
    spacing: float,
    loads: LineLoads,
    wind: float,
    plate: float,
) -> StudResult:
    """What a stud of `length` mm at `spacing` mm takes of its capacity.

    `wind` is the pressure on the wall as it enters the combinations (0.6 W), kPa; `plate` is Fc⊥ of the plates,
    MPa. A stud more slender than 50 takes an infinite share.
    """
    slenderness = length / stock.width
    euler = _EULER * values.least_modulus / slenderness**2
    pressed = {
        "wind": (loads.dead) * spacing / stock.area,
        "all": (loads.dead + 0.75 * (loads.live + loads.snow)) * spacing / stock.area,
        "live": (loads.dead + loads.live) * spacing / stock.area,
    }
    if slenderness > _MOST_SLENDER:
        return StudResult(math.inf, math.inf, math.inf, math.inf, math.inf, math.inf)
    sideways = wind * _PA_PER_KPA * spacing  # N per mm of stud
    bending = sideways * length**2 / 8 / stock.section_modulus
    in_wind = strengths.factor("wind")
    bend_limit = values.bending * size.bending * in_wind * strengths.factor("repetitive member")

    def along(duration: float) -> float:
        crushing = values.compression * size.compression * duration
        return crushing * column_stability(euler, crushing)

    def both(compression: float, bent: float) -> float:
        return (compression / along(in_wind)) ** 2 + bent / (bend_limit * (1 - min(compression / euler, 1 - 1e-9)))

    factor = (stock.thickness + _BEARING_EXTRA) / stock.thickness
    return StudResult(
        dead_wind=both(pressed["wind"], bending),
        dead_live_snow_wind=both(pressed["all"], 0.75 * bending),
        dead_live_snow=pressed["all"] / along(strengths.factor("snow")),
        dead_live=pressed["live"] / along(strengths.factor("occupancy live load")),
        plate=max(pressed["all"], pressed["live"]) / (plate * factor),
        bend=5 * sideways * length**4 / (384 * values.modulus * stock.second_moment),
    )
