"""Places and quantities of findings in words: metric, and the same in feet, inches and pounds."""

from __future__ import annotations

import textwrap

from panelgen.model import Finding
from panelgen.units import MM_PER_FOOT, format_feet_inches, format_length, parse_mass

__all__ = ["both", "measured_words", "place_pair", "quantity_pair", "title_words"]

_LB = parse_mass("1 lb")
_LONGEST = 100
_WHOLE = 100.0
"""Numbers this large are written without decimals."""


def place_pair(finding: Finding) -> tuple[str, str]:
    """Along the panel and up it: ``1283 mm along, 914 mm up`` and ``4'-2 1/2", 3'-0"``; empty without a point."""
    if finding.point is None:
        return "", ""
    x, y, _ = finding.point
    return f"{x:.0f} mm along, {y:.0f} mm up", f"{format_feet_inches(x)}, {format_feet_inches(y)}"


def quantity_pair(value: float | None, unit: str) -> tuple[str, str]:
    """``9.5 mm`` and ``3/8 in``, ``1500 kg`` and ``3,307 lb``; other units alone, and nothing for None."""
    if value is None:
        return "", ""
    match unit:
        case "mm":
            inches = format_feet_inches(value) if abs(value) >= MM_PER_FOOT else format_length(value, "in")
            return format_length(value, "mm"), inches
        case "kg":
            return f"{_number(value)} kg", f"{_number(value / _LB)} lb"
        case _:
            return f"{_number(value)} {unit}".rstrip(), ""


def both(pair: tuple[str, str]) -> str:
    """The second in brackets behind the first."""
    first, second = pair
    return f"{first} ({second})" if second else first


def measured_words(finding: Finding) -> str:
    """What was measured, and the limit where there is one."""
    measured, limit = (both(quantity_pair(value, finding.unit)) for value in (finding.value, finding.limit))
    return f"{measured}, limit {limit}" if measured and limit else measured


def title_words(words: str) -> str:
    """The first clause of a finding's words, short enough for a list."""
    clause = words.partition(": ")[0]
    return textwrap.shorten(clause, _LONGEST, placeholder=" …")


def _number(value: float) -> str:
    return f"{value:,.0f}" if abs(value) >= _WHOLE else f"{value:.3g}"
