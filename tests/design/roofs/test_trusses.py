"""Supplied trusses: where they stand, what they weigh, and what is said of them."""

from __future__ import annotations

import pytest

from panelgen.design import house
from panelgen.model import House, Severity
from panelgen.spec import loads
from tests.design.roofs.houses import BOX, spec_of

ROW = "id: T, level: '1', bearings: [w0, w2], count: 16, span: 6000, rise: 6 in, heel: 200, mass: 62, bracing_rows: 3"


def house_with(row: str, stud: str = "2x6") -> House:
    spec = spec_of(BOX, "rise: 6 in")
    assemblies = f"{{wall: {{layers: [{{layer: framing, stock: {stud}}}]}}}}"
    corners = ", ".join(f"{{wall: w{n}, at: [{x}, {y}]}}" for n, (x, y) in enumerate(BOX))
    level = f"{{id: '1', elevation: 0, height: 2500, outlines: [{{assembly: wall, corners: [{corners}]}}]}}"
    head = f"panelgen: 1\nhouse: {spec.house}\ndesign: {{ground_snow: 1.5, building_width: 6000}}\n"
    return house.design(loads(f"{head}assemblies: {assemblies}\nlevels: [{level}]\ntrusses: [{{{row}}}]\n"))


def said(made: House) -> dict[str, Severity]:
    return {f.code: f.severity for f in made.findings if f.code.startswith("truss.")}


def test_trusses_stand_on_the_plates_at_24_on_centre() -> None:
    made = house_with(ROW)
    assert len(made.trusses) == 16
    assert sum(truss.mass for truss in made.trusses) == pytest.approx(16 * 62.0)
    for number, truss in enumerate(made.trusses):
        assert truss.frame.origin == pytest.approx((number * 609.6, 0.0, 2500.0))
        assert truss.frame.point(truss.span, 0.0, 0.0) == pytest.approx((number * 609.6, 6000.0, 2500.0))
        peak = max(truss.outline, key=lambda point: point[1])
        assert peak == pytest.approx((3000.0, 200.0 + 1500.0))
    assert said(made) == {"truss.engineer": Severity.NOTE}


@pytest.mark.parametrize(
    ("old", "new", "code", "severity"),
    [
        ("span: 6000", "span: 5900", "truss.span", Severity.STOP),
        ("[w0, w2]", "[w0, w1]", "truss.span", Severity.STOP),
        ("count: 16", "count: 18", "truss.off-wall", Severity.STOP),
        ("bracing_rows: 3", "bracing_rows: 0", "truss.bracing", Severity.WARN),
        ("mass: 62", "mass: 2000", "truss.mass", Severity.WARN),
    ],
)
def test_what_does_not_fit_is_found(old: str, new: str, code: str, severity: Severity) -> None:
    assert said(house_with(ROW.replace(old, new)))[code] is severity


def test_trusses_on_thin_plates_stand_near_the_studs() -> None:
    """IBC 2018 2308.5.3.2: within 5 in of a stud, unless there are two 2x6 plates; w2 counts studs from its own end."""
    assert "truss.off-stud" not in said(house_with(ROW, "2x6"))
    assert said(house_with(ROW, "2x4"))["truss.off-stud"] is Severity.WARN
    shifted = ROW.replace("bearings: [w0, w2]", "bearings: [w2, w0]").replace("count: 16", "count: 14, first: 609.6")
    assert "truss.off-stud" in said(house_with(shifted, "2x4"))
