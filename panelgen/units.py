"""Quantities as a person writes them: in to millimetres, kilograms, kPa and kg/m3, and back to feet and inches.

The inch, the pound and standard gravity are exact by definition (international yard and pound
agreement of 1959; third CGPM, 1901), so every factor here is exact too.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from fractions import Fraction

from panelgen.errors import BadValueError

__all__ = [
    "LENGTH_UNITS",
    "MM_PER_FOOT",
    "MM_PER_INCH",
    "format_feet_inches",
    "format_length",
    "inches",
    "parse_density",
    "parse_length",
    "parse_mass",
    "parse_pressure",
]

MM_PER_INCH = 25.4
MM_PER_FOOT = 304.8

LENGTH_UNITS: Mapping[str, float] = {"mm": 1.0, "m": 1000.0, "in": MM_PER_INCH, "ft": MM_PER_FOOT}
"""Units that a house spec may declare for its bare numbers, in mm."""

_KG_PER_LB = 0.45359237
_GRAVITY = 9.80665  # m/s2
_M_PER_FOOT = 0.3048

_LENGTHS = {**LENGTH_UNITS, "cm": 10.0, "inch": MM_PER_INCH, "inches": MM_PER_INCH, '"': MM_PER_INCH}
_MASSES = {"kg": 1.0, "lb": _KG_PER_LB, "lbs": _KG_PER_LB}
_PRESSURES = {"kpa": 1.0, "pa": 0.001, "psf": _KG_PER_LB * _GRAVITY / _M_PER_FOOT**2 / 1000}
_PCF = _KG_PER_LB / _M_PER_FOOT**3
_DENSITIES = {"kg/m3": 1.0, "kg/m³": 1.0, "pcf": _PCF, "lb/ft3": _PCF, "lb/ft³": _PCF}

_LONGEST = 60
_MIXED = r"[0-9]+(?:\s+|\s*-\s*)[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]*)?|\.[0-9]+"
_SIGN = r"(?P<sign>[-+]?)\s*"
_PLAIN = re.compile(rf"{_SIGN}(?P<number>{_MIXED})\s*(?P<unit>[^\s0-9.]\S*?)?\.?")
_FEET = re.compile(
    rf"{_SIGN}(?P<feet>{_MIXED})\s*(?:'|ft\.?|foot|feet)"
    rf"(?:\s*-?\s*(?P<inches>{_MIXED})\s*(?:\"|in\.?|inch|inches)?)?"
)
_PRIMES = str.maketrans({"′": "'", "’": "'", "″": '"', "”": '"', "−": "-"})  # noqa: RUF001

_WRITE_LENGTH = "write a length like 24 in, 97-1/8 in, 7'-6 1/2\", 8 ft, 2438 mm or 1.2 m"
_WRITE_MASS = "write a mass like 2500 lb or 1100 kg"
_WRITE_PRESSURE = "write a load on an area like 30 psf or 1.44 kPa"
_WRITE_DENSITY = "write a density like 3.5 pcf or 56 kg/m3"


def parse_length(value: object, unit: str = "mm") -> float:
    """Read a length, mm.

    Text carries its own unit (``24 in``, ``7'-6 1/2"``, ``7' 6"``, ``3/4 in``, ``2438 mm``, ``1.2 m``,
    ``8 ft``, ``-3 in``); a number, or text that is only a number, is in `unit`, a key of `LENGTH_UNITS`.
    Raises BadValueError, a ValueError, for anything else: booleans, empty text, values that are not finite.
    """
    if not isinstance(value, str):
        return _finite(_number(value, "length", _WRITE_LENGTH) * LENGTH_UNITS[unit], "length", _WRITE_LENGTH)
    text = _trimmed(value, "length", _WRITE_LENGTH)
    match = _FEET.fullmatch(text)
    if match is None:
        return _with_unit(text, _LENGTHS, unit, "length", _WRITE_LENGTH)
    over = _mixed(match["inches"], _WRITE_LENGTH) if match["inches"] else 0.0
    if over >= 12:
        raise BadValueError("the inches after the feet are 12 or more", _WRITE_LENGTH)
    size = _mixed(match["feet"], _WRITE_LENGTH) * MM_PER_FOOT + over * MM_PER_INCH
    return -size if match["sign"] == "-" else size


def parse_mass(value: object) -> float:
    """Read a mass, kg: ``2500 lb``, ``1100 kg``, or a number of kilograms. Raises BadValueError, a ValueError."""
    return _quantity(value, _MASSES, "kg", "mass", _WRITE_MASS)


def parse_pressure(value: object) -> float:
    """Read a load on an area, kPa: ``30 psf``, ``1.44 kPa``, ``1440 Pa``, or a number of kPa.

    Raises BadValueError, a ValueError.
    """
    return _quantity(value, _PRESSURES, "kpa", "load on an area", _WRITE_PRESSURE)


def parse_density(value: object) -> float:
    """Read a density, kg/m3: ``3.5 pcf``, ``56 kg/m3``, or a number of kg/m3. Raises BadValueError, a ValueError."""
    return _quantity(value, _DENSITIES, "kg/m3", "density", _WRITE_DENSITY)


def inches(x: float) -> float:
    """`x` inches in mm."""
    return x * MM_PER_INCH


def format_feet_inches(mm: float, denominator: int = 16) -> str:
    """Write a length as ``8'-1 1/8"``, to the nearest 1/`denominator` in.

    Raises ValueError where `mm` is not finite or `denominator` is less than 1.
    """
    sign, steps = _steps(mm, denominator)
    feet, rest = divmod(steps, 12 * denominator)
    return f"{sign}{feet}'-{_mixed_text(rest, denominator)}\""


def format_length(mm: float, unit: str) -> str:
    """Write a length in `unit`, a key of `LENGTH_UNITS`: to 0.1 mm, or to the nearest 1/16 in.

    ``2438.4 mm``, ``2.4384 m``, ``96 1/8 in``, ``8'-0 1/8"``. Raises ValueError where `mm` is not finite.
    """
    if unit == "ft":
        return format_feet_inches(mm)
    if unit == "in":
        sign, steps = _steps(mm, 16)
        return f"{sign}{_mixed_text(steps, 16).removeprefix('0 ')} in"
    tenths = _rounded(mm * 10)
    decimals = 1 if unit == "mm" else 4
    digits = f"{tenths / 10 / LENGTH_UNITS[unit]:.{decimals}f}".rstrip("0").rstrip(".")
    return f"{digits} {unit}"


def _quantity(value: object, units: Mapping[str, float], bare: str, what: str, remedy: str) -> float:
    if isinstance(value, str):
        return _with_unit(_trimmed(value, what, remedy), units, bare, what, remedy)
    return _finite(_number(value, what, remedy) * units[bare], what, remedy)


def _with_unit(text: str, units: Mapping[str, float], bare: str, what: str, remedy: str) -> float:
    match = _PLAIN.fullmatch(text)
    if match is None:
        raise BadValueError(f"this is not a {what}", remedy)
    factor = units.get((match["unit"] or bare).lower())
    if factor is None:
        raise BadValueError(f"'{match['unit']}' is not a unit of {what}", remedy)
    size = _finite(_mixed(match["number"], remedy) * factor, what, remedy)
    return -size if match["sign"] == "-" else size


def _trimmed(text: str, what: str, remedy: str) -> str:
    text = text.strip().translate(_PRIMES)
    if not text:
        raise BadValueError(f"a {what} is missing", remedy)
    if len(text) > _LONGEST:
        raise BadValueError(f"this is too long to be a {what}", remedy)
    if "," in text:
        raise BadValueError("a comma does not belong in a number", f"leave the comma out, and {remedy}")
    return text


def _number(value: object, what: str, remedy: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise BadValueError(f"this is not a {what}", remedy)
    try:
        return float(value)
    except OverflowError:
        return math.inf


def _finite(value: float, what: str, remedy: str) -> float:
    if not math.isfinite(value):
        raise BadValueError(f"a {what} must be a finite number", remedy)
    return value


def _mixed(text: str, remedy: str) -> float:
    """Read ``97``, ``97.125``, ``1/8``, ``97 1/8`` or ``97-1/8``."""
    *whole, last = text.replace("-", " ").split()
    top, slash, bottom = last.partition("/")
    if not slash:
        return float(last)
    if int(bottom) == 0 or (whole and int(top) >= int(bottom)):
        raise BadValueError(f"{last} is not a proper fraction", remedy)
    return float(sum(map(int, whole)) + Fraction(int(top), int(bottom)))


def _steps(mm: float, denominator: int) -> tuple[str, int]:
    """Sign and whole number of 1/`denominator` in."""
    if denominator < 1:
        raise ValueError("denominator must be 1 or more")
    steps = _rounded(mm / MM_PER_INCH * denominator)
    return ("-" if steps < 0 else ""), abs(steps)


def _rounded(value: float) -> int:
    if not math.isfinite(value):
        raise ValueError("a length must be a finite number")
    return round(value)


def _mixed_text(steps: int, denominator: int) -> str:
    whole, rest = divmod(steps, denominator)
    return f"{whole} {Fraction(rest, denominator)}" if rest else str(whole)
