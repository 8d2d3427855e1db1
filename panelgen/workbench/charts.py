"""Small bar charts as SVG: figures to look at rather than to read, with the same numbers as text for screen readers."""

from __future__ import annotations

import html
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from panelgen.model import Finding, House, Severity
from panelgen.model.masses import panel_mass
from panelgen.model.palette import OKABE_ITO, Rgb
from panelgen.plans import offcuts
from panelgen.units import format_length

__all__ = ["Bar", "bar_chart", "findings_by_kind", "mass_per_panel", "waste_by_stock"]

_WIDTH, _ROW, _BAR = 300, 20, 12
_NAME, _VALUE = 142, 52
_TEXT, _GAP = 11, (_ROW - _BAR) / 2


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: its name, how long it is, what is written at its end, and a colour of its own where it has one."""

    name: str
    size: float
    words: str
    colour: Rgb = OKABE_ITO["blue"]


_SEVERITY_COLOURS = {
    Severity.STOP: OKABE_ITO["vermillion"],
    Severity.WARN: OKABE_ITO["orange"],
    Severity.NOTE: OKABE_ITO["sky blue"],
}


def mass_per_panel(house: House, marked: str = "", most: int = 0) -> str:
    """Chart of the mass of each panel, kg, `marked` in another colour; of the `most` heaviest where that is given."""
    masses = sorted(((panel_mass(panel), panel.label) for panel in house.panels), key=lambda one: (-one[0], one[1]))
    shown = masses[:most] if most else masses
    bars = [
        Bar(label, mass, f"{mass:.0f} kg", OKABE_ITO["orange" if label == marked else "blue"]) for mass, label in shown
    ]
    rest = f", the {len(shown)} heaviest of {len(masses)}" if len(shown) < len(masses) else ""
    return bar_chart(f"Weight per panel{rest}", bars)


def waste_by_stock(house: House, longest_stock: float, unit: str) -> str:
    """Chart of the share of each stock that ends up in no part when it is cut plainly."""
    bars = [
        Bar(
            f"{one.name}, {_size(one.size, unit)}",
            one.share,
            f"{100 * one.share:.0f} %",
            OKABE_ITO["blue" if one.kind == "stick" else "bluish green"],
        )
        for one in offcuts(house.panels, longest_stock)
    ]
    return bar_chart("Waste by stock", bars, 1.0)


def findings_by_kind(findings: Sequence[Finding]) -> str:
    """Chart of how many findings there are of each code, the worst first; those that a waiver accepts are left out."""
    standing = [finding for finding in findings if not finding.waived_by]
    counts = Counter((finding.code, finding.severity) for finding in standing)
    bars = [Bar(code, count, str(count), _SEVERITY_COLOURS[severity]) for (code, severity), count in counts.items()]
    return bar_chart("Findings by kind", bars)


def bar_chart(title: str, bars: Sequence[Bar], longest: float = 0.0) -> str:
    """A chart as one SVG element that grows with what it is put in; `longest` is a size that fills the width."""
    longest = longest or max((bar.size for bar in bars), default=0.0) or 1.0
    room = _WIDTH - _NAME - _VALUE
    rows = "".join(_row(place * _ROW, bar, room * bar.size / longest) for place, bar in enumerate(bars))
    said = "; ".join(f"{bar.name}: {bar.words}" for bar in bars) or "nothing"
    height = max(len(bars), 1) * _ROW
    if not bars:
        rows = f'<text x="0" y="{_TEXT + 2}">nothing</text>'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {height}" role="img" '
        f'aria-label="{html.escape(f"{title}. {said}")}" font-size="{_TEXT}" fill="currentColor">{rows}</svg>'
    )


def _row(top: float, bar: Bar, length: float) -> str:
    base = top + _ROW / 2 + _TEXT / 2 - 2
    fill = "#{:02x}{:02x}{:02x}".format(*bar.colour)
    return (
        f'<text x="{_NAME - 6}" y="{base:g}" text-anchor="end">{html.escape(_cut(bar.name))}</text>'
        f'<rect x="{_NAME}" y="{top + _GAP:g}" width="{max(length, 1):.1f}" height="{_BAR}" fill="{fill}"/>'
        f'<text x="{_NAME + length + 4:.1f}" y="{base:g}">{html.escape(bar.words)}</text>'
    )


def _size(sides: Sequence[float], unit: str) -> str:
    """``192 in``, or ``48 × 108 in``: the unit once."""
    *first, last = (format_length(side, unit) for side in sides)
    return " × ".join([*(text.removesuffix(f" {unit}") for text in first), last])


def _cut(name: str, most: int = 21) -> str:
    return name if len(name) <= most else f"{name[: most - 1]}…"
