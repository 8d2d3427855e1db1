"""Dormers that cannot stand where they are asked to: each is told of, and the rest of the house is designed."""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.design import house
from panelgen.errors import SpecError
from panelgen.model import Finding, House, Severity
from panelgen.spec import loads
from tests.design.dormers.houses import FORMS, dormer_panels, dormer_spec

CATALOG = Catalog.default()


def told(built: House, code: str) -> Finding:
    (finding,) = (one for one in built.findings if one.code == code)
    assert finding.severity is Severity.STOP
    assert finding.parts == ("DM",)
    assert dormer_panels(built) == {}
    assert any(hole.id == "DM" for panel in built.panels for hole in panel.openings)  # framed and left open
    return finding


def test_a_shed_has_to_be_flatter_than_its_roof() -> None:
    finding = told(house.design(dormer_spec("form: shed, height: 1300, rise: 10 in")), "dormer.steep")
    assert finding.value == pytest.approx(10 / 12)
    assert finding.limit == pytest.approx(10 / 12)


@pytest.mark.parametrize("dormer", ["form: shed, height: 2200, rise: 3 in", "form: gable, height: 3000, rise: 8 in"])
def test_its_roof_stays_on_one_slope(dormer: str) -> None:
    finding = told(house.design(dormer_spec(dormer)), "dormer.outside")
    assert finding.value is not None
    assert finding.value > 0.0


@pytest.mark.parametrize("form", FORMS)
def test_its_roof_covers_its_opening(form: str) -> None:
    low = FORMS[form].replace("1300", "600")
    assert told(house.design(dormer_spec(low, window=False)), "dormer.low").value is not None
    told(house.design(dormer_spec(low, window=False, sealed=False)), "dormer.low")


def test_a_back_wall_asks_for_more_height_than_the_opening_alone() -> None:
    """Without an air barrier below there is no back wall, and the roof may come down right behind the opening."""
    low = "form: shed, height: 900, rise: 3 in"
    told(house.design(dormer_spec(low, window=False)), "dormer.low")
    assert dormer_panels(house.design(dormer_spec(low, window=False, sealed=False)))


@pytest.mark.parametrize(
    ("find", "put", "words"),
    [
        ("walls: cheek", "walls: chick", "assembly"),
        ("walls: cheek", "walls: strapped", "no service cavity"),
        ("kind: dormer", "kind: skylight", "no dormer stands"),
        ("wall: w1,", "wall: DM-front,", "another wall has this id"),
        ("wall: DM-front,", "wall: DM-left,", "wall"),
        ("sill: 400", "sill: 4000", "above the top of wall DM-front"),
    ],
)
def test_a_spec_that_names_what_there_is_not_is_refused(find: str, put: str, words: str) -> None:
    text = dormer_spec_text().replace(find, put, 1)
    with pytest.raises(SpecError, match=words):
        loads(text)


def dormer_spec_text() -> str:
    return """
panelgen: 1
house: Dormer
design: {ground_snow: 1.5, building_width: 6000}
assemblies:
  cheek: {layers: [{layer: framing, stock: 2x6}]}
  strapped:
    layers: [{layer: framing, stock: 2x6}, {layer: sheathing, product: osb-7/16}, {layer: strapping, stock: 2x3}]
levels:
  - id: "1"
    elevation: 0
    height: 2500
    outlines:
      - assembly: cheek
        corners:
          - {wall: w0, at: [0, 0]}
          - {wall: w1, at: [10000, 0]}
          - {wall: w2, at: [10000, 8000]}
          - {wall: w3, at: [0, 8000]}
unit_types: {w: {kind: window, width: 600, height: 500}}
openings: [{id: DW, wall: DM-front, type: w, center: 740, sill: 400}]
roofs:
  - id: R
    level: "1"
    assembly: cheek
    rise: 10 in
    openings:
      - id: DM
        edge: w0
        at: [5000, 1500]
        size: [1200, 1200]
        kind: dormer
        dormer: {walls: cheek, assembly: cheek, form: shed, height: 1300, rise: 3 in}
"""
