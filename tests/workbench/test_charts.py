"""Charts say in words what they show, and show names as text."""

from __future__ import annotations

from xml.etree import ElementTree as ET

from panelgen.workbench import Session
from panelgen.workbench.charts import Bar, bar_chart, findings_by_kind, mass_per_panel, waste_by_stock
from tests.workbench.examples import FAULTY

SVG = "{http://www.w3.org/2000/svg}"


def test_charts_of_a_house() -> None:
    session = Session.open(FAULTY)
    house = session.house
    masses = ET.fromstring(mass_per_panel(house, most=5))
    widths = [float(bar.get("width", "0")) for bar in masses.iter(f"{SVG}rect")]
    assert len(widths) == 5
    assert widths == sorted(widths, reverse=True)
    assert "the 5 heaviest of 50" in masses.get("aria-label", "")
    waste = ET.fromstring(waste_by_stock(house, session.spec.shop.longest_stock, "in"))
    assert "2x6, 192 in" in waste.get("aria-label", "")
    kinds = ET.fromstring(findings_by_kind(session.findings))
    codes = {finding.code for finding in session.findings if not finding.waived_by}
    assert len(list(kinds.iter(f"{SVG}rect"))) == len(
        {(f.code, f.severity) for f in session.findings if not f.waived_by}
    )
    assert all(code in kinds.get("aria-label", "") for code in codes)


def test_nothing_is_a_chart_too() -> None:
    assert "nothing" in bar_chart("Findings", [])


def test_a_name_is_never_markup() -> None:
    nasty = "<img src=x onerror=alert(1)>"
    chart = ET.fromstring(bar_chart(nasty, [Bar(nasty, 1.0, nasty)]))
    assert [node.tag for node in chart.iter() if "img" in node.tag] == []
    assert nasty in chart.get("aria-label", "")
