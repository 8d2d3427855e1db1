"""Ties across the plates, and ridges that must be beams: IRC R802.5.2 and R802.4.4, from memory."""

from __future__ import annotations

import pytest

from panelgen.checks import check_house
from panelgen.model import Finding, House, Member, Role
from tests.checks.looking import CATALOG
from tests.checks.structure.houses import changed
from tests.checks.structure.roofs import GABLES, roofed
from tests.design.roofs.houses import BOX


def said(house: House) -> dict[str, list[Finding]]:
    """What is said of ties and beams, by code."""
    found: dict[str, list[Finding]] = {}
    for one in check_house(house, CATALOG):
        if one.code in {"roof.thrust", "roof.tied", "roof.beam"}:
            found.setdefault(one.code, []).append(one)
    return found


def planes(findings: list[Finding]) -> set[str]:
    return {part for one in findings for part in one.parts}


def test_rafters_without_a_ceiling_push_the_walls_apart() -> None:
    found = said(roofed(BOX, edges=GABLES))
    assert set(found) == {"roof.thrust"}
    assert planes(found["roof.thrust"]) == {"R-w0", "R-w2"}
    assert all(one.severity == "warn" and "R802.5.2" in one.source for one in found["roof.thrust"])


def test_joists_along_the_rafters_tie_them() -> None:
    found = said(roofed(BOX, edges=GABLES, ceiling="y"))
    assert set(found) == {"roof.tied"}
    assert planes(found["roof.tied"]) == {"R-w0", "R-w2"}


def test_joists_across_the_rafters_tie_nothing() -> None:
    assert set(said(roofed(BOX, edges=GABLES, ceiling="x"))) == {"roof.thrust"}


def test_where_ties_are_missing_rafters_are_counted() -> None:
    """Joists 3.25 m apart tie the rafters within 2 ft of either: five or so at 16 in. are loose between them."""
    house = roofed(BOX, edges=GABLES, ceiling="y")
    frames = {m.id: panel.frame for panel in house.panels for m in panel.members}

    def cut(member: Member) -> Member | None:
        x = frames[member.id].point(*member.frame.origin)[0]
        return None if member.role is Role.JOIST and 4000.0 < x < 6500.0 else member

    for one in said(changed(house, cut))["roof.thrust"]:
        assert one.value == pytest.approx((6890.0 - 3639.0 - 2 * 609.6) / 406.4, abs=1.5)


def test_hips_need_ties_both_ways() -> None:
    found = said(roofed(BOX, ceiling="y"))
    assert planes(found["roof.thrust"]) == {"R-w1", "R-w3"}
    assert planes(found["roof.tied"]) == {"R-w0", "R-w2"}


def test_a_shed_pushes_nowhere() -> None:
    shed = [{"edge": f"w{n}", "kind": "gable"} for n in (1, 2, 3)]
    assert said(roofed(BOX, rise="3 in", edges=shed)) == {}


@pytest.mark.parametrize(("rise", "codes"), [("3 in", {"roof.thrust"}), ("2-7/8 in", {"roof.beam"})])
def test_low_roofs_hang_on_beams(rise: str, codes: set[str]) -> None:
    assert set(said(roofed(BOX, rise=rise, edges=GABLES))) == codes
