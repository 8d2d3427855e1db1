"""Headers as built against IRC Table R602.7(1), 2018/2021, 30 psf and 24 ft (a public transcription), roof only.

2-2x6 4-7 (1 jack), 2-2x8 5-9 (1), 2-2x10 6-10 (2): each header is measured from its sticks, so a stick taken out,
moved or of other wood is seen whatever the design wrote down.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.model import House, Member, Role
from tests.checks.structure.houses import INCH, changed, codes, found, storeys, without

WIDE = {"type": "window-60x48", "center": "12 ft"}


def wide() -> House:
    return storeys(1, [[WIDE]])


def test_what_the_design_chose_is_in_the_table() -> None:
    house = wide()
    assert codes(house) == []
    assert [m.stock for m in house.panels[0].members if m.role is Role.HEADER] == ["2x8", "2x8"]


def test_a_shallower_header_spans_too_far() -> None:
    """61 in. clear; a 2-2x6 may span 4-7."""

    def shallow(member: Member) -> Member:
        return replace(member, stock="2x6", width=5.5 * INCH) if member.role is Role.HEADER else member

    finding = next(one for one in found(changed(wide(), shallow)) if one.code == "header.span")
    assert finding.value == pytest.approx(61 * INCH, abs=1.0)
    assert finding.limit == pytest.approx((4 * 12 + 7) * INCH, abs=1.0)
    assert "IRC Table R602.7(1)" in finding.source


def test_a_missing_ply_is_outside_the_table() -> None:
    assert codes(without(wide(), "N1/O11/header-2")) == ["header.table"]


def test_a_missing_header() -> None:
    assert codes(without(wide(), "N1/O11/header-1", "N1/O11/header-2")) == ["header.missing"]


def test_a_missing_jack() -> None:
    findings = found(without(wide(), "N1/O11/jack-left-1"))
    jacks = next(one for one in findings if one.code == "header.jacks")
    assert (jacks.value, jacks.limit) == (0.0, 1.0)
    assert "left end" in jacks.words


def test_a_missing_king() -> None:
    findings = found(without(wide(), "N1/O11/king-right-1", "N1/O11/king-right-2"))
    kings = next(one for one in findings if one.code == "header.kings")
    assert (kings.value, kings.limit) == (0.0, 2.0)


def test_wood_that_the_table_is_not_for() -> None:
    def cedar(member: Member) -> Member:
        return replace(member, species="WC") if member.role is Role.HEADER else member

    findings = found(changed(wide(), cedar))
    assert [one.code for one in findings] == ["header.wood"]
    assert "WC No.2" in findings[0].words


def test_a_header_that_hardly_bears() -> None:
    """The table counts whole jacks: 1-1/2 in. of bearing each."""

    def cut(member: Member) -> Member:
        if member.role is not Role.HEADER:
            return member
        x, y, z = member.frame.origin
        frame = replace(member.frame, origin=(x + INCH, y, z))
        return replace(member, frame=frame, length=member.length - 2 * INCH)

    findings = [one for one in found(changed(wide(), cut)) if one.code == "header.bearing"]
    assert [one.value for one in findings] == [pytest.approx(0.5 * INCH), pytest.approx(0.5 * INCH)]
    assert all(one.limit == pytest.approx(1.5 * INCH) for one in findings)


def test_snow_past_the_table() -> None:
    house = wide()
    assert house.loads is not None
    heavy = replace(house, loads=replace(house.loads, ground_snow=5.0))
    (finding,) = found(heavy)
    assert finding.code == "header.table"
    assert "needs an engineer" in finding.words


def test_a_fault_that_the_design_reported_is_not_said_twice() -> None:
    house = storeys(1, [[{"type": "gate-144x80", "center": "12 ft", "sill": 0}]])
    assert "header.none" in [one.code for one in house.panels[0].findings] + [
        one.code for panel in house.panels for one in panel.findings
    ]
    assert codes(house) == ["header.none"]
