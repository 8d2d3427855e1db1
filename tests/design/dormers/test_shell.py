"""Dormers as a part of the shell: what they are built of, that it fits, closes and can be set, and that gaps show."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from typing import Any

import pytest

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.envelope.cover import airtight_panels, covers
from panelgen.envelope.setting import blocked_panels, setting_order
from panelgen.model import House, PanelKind, Severity
from panelgen.model.masses import panel_mass
from tests.design.dormers.houses import FORMS, dormer_house, dormer_panels
from tests.design.roofs.bodies import overlap, panel_solid

CATALOG = Catalog.default()
ABOUT_THE_ROOF = ("joist.table", "roof.spliced", "roof.thrust", "roof.brace")
"""What is said of the roof below, whatever stands on it."""


@pytest.fixture(scope="module", params=[(form, sealed) for form in FORMS for sealed in (True, False)], ids=str)
def built(request: pytest.FixtureRequest) -> tuple[House, str, bool]:
    form, sealed = request.param
    return dormer_house(FORMS[form], sealed=sealed), form, sealed


def test_a_dormer_is_walls_and_a_roof(built: tuple[House, str, bool]) -> None:
    house, form, sealed = built
    roofs = {"shed": {"roof-front"}, "gable": {"roof-left", "roof-right"}}[form]
    assert set(dormer_panels(house)) == {"front", "left", "right"} | roofs | ({"back"} if sealed else set())
    for panel in dormer_panels(house).values():
        assert panel.kind is (PanelKind.ROOF if panel.wall.startswith("DM-roof") else PanelKind.EXTERIOR_WALL)
        assert panel.members
        assert panel.sheets
        assert panel.fasteners
        assert panel_mass(panel) > 10.0
        assert bool(panel.bays) is sealed
        assert panel.label in {name for joint in house.joints for name in joint.panels}
    assert len({panel.label for panel in house.panels}) == len(house.panels)


def test_its_front_wall_has_its_window(built: tuple[House, str, bool]) -> None:
    front = dormer_panels(built[0])["front"]
    (window,) = front.openings
    assert window.y0 == pytest.approx(400.0)  # over the sheathing at the outer face, as asked
    assert window.header is not None


def test_nothing_stops_it(built: tuple[House, str, bool]) -> None:
    house, _, sealed = built
    found = [finding for finding in check_house(house, CATALOG) if finding.code not in ABOUT_THE_ROOF]
    if not sealed:  # these houses have no ceiling
        found = [finding for finding in found if not finding.code.startswith("air.")]
    assert [finding for finding in found if finding.severity is not Severity.NOTE] == []
    assert "dormer.load" in {finding.code for finding in found}


def test_its_panels_share_no_space_with_one_another_or_the_roof(built: tuple[House, str, bool]) -> None:
    house = built[0]
    below = next(panel for panel in house.panels if any(hole.id == "DM" for hole in panel.openings))
    solids = [panel_solid(panel) for panel in (below, *dormer_panels(house).values())]
    assert max(overlap(a, b) for a, b in combinations(solids, 2)) < 1.0  # mm3


def test_it_is_set_on_the_roof_that_stands(built: tuple[House, str, bool]) -> None:
    order = setting_order(built[0])
    assert list(blocked_panels(order)) == []
    names = [panel.wall for panel in order if panel.kind is PanelKind.ROOF or panel.dormer]
    first = names.index("DM-front")
    assert all(name.startswith("R-") for name in names[:first])
    assert all(name.startswith("DM-") for name in names[first:])
    assert [name.startswith("DM-roof") for name in names[first:]] == sorted(
        name.startswith("DM-roof") for name in names[first:]
    )


def test_everything_behind_its_airtight_sheets_is_wood_or_insulated(built: tuple[House, str, bool]) -> None:
    house, _, sealed = built
    found = list(covers(house, [panel for panel in airtight_panels(house) if panel.dormer]))
    assert bool(found) is sealed
    for cover in found:
        assert cover.insulated + cover.wood > 0.99 * cover.area
        assert cover.bare < 1e3  # mm2


def test_a_corner_without_tape_is_named() -> None:
    house = dormer_house(FORMS["shed"])
    labels = {name: panel.label for name, panel in dormer_panels(house).items()}
    pair = {labels["left"], labels["back"]}
    joints = tuple(replace(one, air="") if set(one.panels) == pair else one for one in house.joints)
    (found,) = (one for one in check_house(replace(house, joints=joints), CATALOG) if one.code == "air.break")
    assert all(label in found.words for label in pair)
    # The corner goes on down in the opening; above, the membrane under the rafters bridges a part of it.
    assert found.value is not None
    assert 200.0 < found.value < dormer_panels(house)["back"].height


@pytest.mark.parametrize(
    ("dormer", "options"),
    [
        (FORMS["shed"], {"turn": 0.5}),
        (FORMS["gable"], {"turn": -1.1, "studs": "2x4"}),
        ("form: gable, height: 1300, rise: 2 in, overhang: 0, rake_overhang: 0", {}),
        ("form: gable, height: 1300, rise: 12 in, overhang: 400, rake_overhang: 300", {"rise": "11 in"}),
        ("form: shed, height: 1300, rise: 0.5 in, overhang: 0, rake_overhang: 0", {"rise": "8 in", "studs": "2x4"}),
    ],
)
def test_no_slope_overhang_or_turn_stops_it(dormer: str, options: dict[str, Any]) -> None:
    house = dormer_house(dormer, **options)
    assert dormer_panels(house)
    assert [one for one in check_house(house, CATALOG) if one.severity is Severity.STOP] == []


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("missing", ["front", "left", "back"])
def test_a_panel_that_is_missing_opens_the_airtight_line(form: str, missing: str) -> None:
    house = dormer_house(FORMS[form])
    rest = tuple(panel for panel in house.panels if panel.wall != f"DM-{missing}")
    codes = {finding.code for finding in check_house(replace(house, panels=rest), CATALOG)}
    assert "air.break" in codes
    assert ("weather.break" in codes) is (missing != "back")  # which is under the dormer's roof
