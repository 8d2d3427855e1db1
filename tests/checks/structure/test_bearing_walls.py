"""Bearing walls on joists, on both sides of the rule: IRC R502.4, from memory."""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.design.house import design
from panelgen.model import Finding, House
from tests.checks.structure.houses import FOOT, INCH, found, storeys, without
from tests.design.floors.houses import bearing, floored
from tests.design.floors.test_beams import ground

SAWN = {"stock": "2x10", "depth": 9.25 * INCH, "spacing": 16 * INCH}
LINE = bearing("P1", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT))
"""Where joists along y meet, half across the house."""


def carried(house: House) -> list[Finding]:
    return [one for one in found(house) if one.code in {"load.offset", "load.joists", "load.doubled", "load.gap"}]


@pytest.mark.parametrize(("inches", "wrong"), [(0.0, False), (9.0, False), (9.5, True), (-9.0, False), (-9.5, True)])
def test_across_the_joists_no_farther_off_than_they_are_deep(inches: float, wrong: bool) -> None:
    y = 12 * FOOT + inches * INCH
    findings = carried(design(floored(**SAWN, lower=[LINE], upper=[bearing("U1", (0.0, y), (40 * FOOT, y))])))
    assert {one.code for one in findings} == ({"load.offset"} if wrong else set())
    for one in findings:
        assert one.value == pytest.approx(abs(inches) * INCH)
        assert one.limit == pytest.approx(9.25 * INCH)
        assert one.parts == ("U1",)
        assert "R502.4" in one.source


def test_a_partition_may_stand_anywhere() -> None:
    y = 17 * FOOT
    upper = [bearing("U1", (0.0, y), (40 * FOOT, y), carries=False)]
    assert carried(design(floored(**SAWN, lower=[LINE], upper=upper))) == []


X = 10 * FOOT + 4 * INCH
ALONG = bearing("U1", (X, 0.0), (X, 12 * FOOT))


def along(*lower: dict[str, object]) -> House:
    return design(floored(**SAWN, lower=[LINE, *lower], upper=[ALONG]))


def test_along_doubled_joists() -> None:
    """The design stands two beneath: how large they are is for an engineer."""
    (note,) = carried(along())
    assert (note.code, note.severity) == ("load.doubled", "note")


def test_along_the_joists_with_one_beneath() -> None:
    (finding,) = carried(without(along(), "F2/under-U1-2@0"))
    assert (finding.code, finding.severity) == ("load.joists", "warn")
    assert finding.value is not None
    assert finding.value > 10 * FOOT


def test_along_the_joists_over_a_wall() -> None:
    assert carried(along(bearing("P2", (X, 0.0), (X, 12 * FOOT)))) == []
    (half,) = carried(along(bearing("P2", (X, 0.0), (X, 6 * FOOT))))
    assert half.value == pytest.approx(6 * FOOT, abs=2 * FOOT)


def test_a_wall_without_floor_panels_needs_one_beneath() -> None:
    house = storeys(2)
    assert carried(house) == []
    aside = [
        replace(one, frame=replace(one.frame, origin=(one.frame.origin[0], 3000.0, one.frame.origin[2])))
        if one.level == "2"
        else one
        for one in house.panels
    ]
    assert {one.code for one in carried(replace(house, panels=tuple(aside)))} == {"load.gap"}


def test_on_the_lowest_floor_a_beam_carries_it() -> None:
    beam = {"id": "G1", "start": [0.0, 12 * FOOT], "end": [40 * FOOT, 12 * FOOT], "width": 139.7}
    assert carried(ground([beam], lower=[LINE])) == []
    aside = beam | {"start": [0.0, 10 * FOOT], "end": [40 * FOOT, 10 * FOOT]}
    (*findings,) = carried(ground([aside], lower=[LINE]))
    assert {one.code for one in findings} == {"load.offset"}
    assert all(one.value == pytest.approx(2 * FOOT, abs=139.7 / 4) for one in findings)
