"""Published limits on bores and notches.

- IRC 2018 R602.6 and WAC 296-150C-1000 (Washington State law): in studs of exterior walls and bearing
  partitions notches to 25 % and bores to 40 % of the width; nonbearing 40 % and 60 %; 60 % too where
  every bored stud is doubled and no more than two successive doubled studs are bored; 5/8 in. of wood
  to the edge; no bore in the same section as a cut or notch.
- IRC 2018 R602.6.1: a top plate of an exterior or bearing wall cut more than 50 % needs a steel tie.
- Check numbers, Mecklenburg County code notes: 2x4 7/8, 1-3/8, 2-1/8 in.; 2x6 1-3/8, 2-3/16, 3-5/16 in.
- Worked question, inspectors' forum: a 1-1/2 in. notch in an exterior 2x6 is not allowed.
- IRC R502.8 (secondary): joists, bores to 1/3 of the depth, 2 in. from the edge; notches to 1/6.
"""

from __future__ import annotations

import pytest

from panelgen.checks.holes.boring import boring
from panelgen.checks.holes.notching import notching
from panelgen.geometry.frames import WORLD
from panelgen.model import Bore, Finding, Hardware, HardwareKind, Member, Notch, PanelKind, Role, Severity
from tests.checks.builders import DEPTH, WHY, member, panel, plate, stud
from tests.checks.looking import RULES, about, seen

INCH = 25.4
TWO_BY_FOUR, TWO_BY_SIX = 3.5 * INCH, 5.5 * INCH
INTERIOR = {"kind": PanelKind.INTERIOR_WALL}


def bored(width: float, diameter: float, *, y: float | None = None, role: Role = Role.STUD, **more: object) -> Member:
    """A stick of that width with one hole through it, in the middle or at `y`."""
    hole = Bore((600.0, width / 2 if y is None else y, 0.0), diameter, run="P1")
    return member("stick", role, size=(2400.0, width, 38.1), bores=[hole], **more)


def found(*sticks: Member, **more: object) -> list[Finding]:
    return [*seen(boring, panel(sticks, **more), RULES), *seen(notching, panel(sticks, **more), RULES)]


@pytest.mark.parametrize(
    ("width", "bearing", "limit"),
    [
        (TWO_BY_FOUR, True, 1.40),
        (TWO_BY_FOUR, False, 2.10),
        (TWO_BY_SIX, True, 2.20),
        (TWO_BY_SIX, False, 3.30),
    ],
)
def test_greatest_bores_in_studs(width: float, bearing: bool, limit: float) -> None:
    wall = {"bearing": bearing, **INTERIOR}
    assert found(bored(width, limit * INCH), **wall) == []
    (finding,) = found(bored(width, (limit + 0.01) * INCH), **wall)
    assert (finding.code, finding.severity, finding.parts) == ("bore.size", Severity.STOP, ("stick", "P1"))
    assert finding.limit == pytest.approx(limit * INCH)
    assert "R602.6" in finding.source


def test_exterior_walls_count_as_bearing() -> None:
    hole = bored(TWO_BY_SIX, 2.5 * INCH)
    assert about(found(hole, bearing=False)) == [("bore.size", "stick", "P1")]
    assert found(hole, bearing=False, **INTERIOR) == []


@pytest.mark.parametrize(("wood", "allowed"), [(0.625, True), (0.615, False)])
def test_wood_to_the_edge(wood: float, allowed: bool) -> None:
    hole = bored(TWO_BY_SIX, INCH, y=TWO_BY_SIX - (wood + 0.5) * INCH)
    assert about(found(hole)) == ([] if allowed else [("bore.edge", "stick", "P1")])


def test_hole_too_big_for_its_edge_is_one_finding() -> None:
    """A 76 mm hole in a 2x4 leaves 6 mm wherever it is: that is its size, not its place."""
    assert about(found(bored(TWO_BY_FOUR, 76.0))) == [("bore.size", "stick", "P1")]


@pytest.mark.parametrize(
    ("width", "bearing", "limit"),
    [
        (TWO_BY_FOUR, True, 0.875),
        (TWO_BY_FOUR, False, 1.40),
        (TWO_BY_SIX, True, 1.375),
        (TWO_BY_SIX, False, 2.20),
    ],
)
def test_deepest_notches_in_studs(width: float, bearing: bool, limit: float) -> None:
    def notched(depth: float) -> Member:
        return member("stick", size=(2400.0, width, 38.1), notches=[Notch(500.0, 550.0, depth * INCH, run="P1")])

    wall = {"bearing": bearing, **INTERIOR}
    assert found(notched(limit), **wall) == []
    (finding,) = found(notched(limit + 0.01), **wall)
    assert (finding.code, finding.parts, finding.limit) == ("notch.depth", ("stick", "P1"), pytest.approx(limit * INCH))


def test_worked_notch_is_not_allowed() -> None:
    notched = member("stick", size=(2400.0, TWO_BY_SIX, 38.1), notches=[Notch(500.0, 550.0, 1.5 * INCH)])
    assert about(found(notched)) == [("notch.depth", "stick")]


@pytest.mark.parametrize(("x1", "allowed"), [(585.0, True), (588.0, False)])
def test_hole_and_notch_in_one_section(x1: float, allowed: bool) -> None:
    both = member("stick", bores=[Bore((600.0, DEPTH / 2, 0.0), 25.4, run="P1")], notches=[Notch(500.0, x1, 20.0)])
    assert about(found(both)) == ([] if allowed else [("bore.notch", "stick", "P1")])


def doubled(count: int, diameter: float, spacing: float = 400.0) -> list[Member]:
    """Pairs of studs in contact, all bored by one run at one height."""
    hole = [Bore((600.0, DEPTH / 2, 0.0), diameter, run="P1")]
    return [
        stud(spacing * k + 38.1 * side, f"pair{k}{'ab'[side]}", bores=hole) for k in range(count) for side in (0, 1)
    ]


def test_doubled_studs_take_sixty_percent() -> None:
    limit = 0.6 * DEPTH
    assert found(*doubled(2, limit)) == []
    assert {finding.code for finding in found(*doubled(2, limit + 0.2))} == {"bore.size"}


def test_no_more_than_two_successive_doubled_studs() -> None:
    (finding,) = found(*doubled(3, 0.5 * DEPTH))
    assert finding.code == "bore.successive"
    assert finding.parts == ("pair0a", "pair0b", "pair1a", "pair1b", "pair2a", "pair2b", "P1")
    assert (finding.value, finding.limit) == (3, 2)


def test_a_single_stud_between_is_too_big_by_itself() -> None:
    single = stud(600.0, "single", bores=[Bore((600.0, DEPTH / 2, 0.0), 0.5 * DEPTH, run="P1")])
    assert about(found(*doubled(2, 0.5 * DEPTH), single)) == [("bore.size", "single", "P1")]


def test_a_jack_shorter_than_the_hole_does_not_double() -> None:
    hole = [Bore((1500.0, DEPTH / 2, 0.0), 0.5 * DEPTH, run="P1")]
    king, jack = (
        stud(0.0, "king", role=Role.KING, bores=hole),
        stud(38.1, "jack", role=Role.JACK, size=(1200.0, DEPTH, 38.1)),
    )
    assert about(found(king, jack)) == [("bore.size", "king", "P1")]


def tie(at: float, id: str = "top") -> Hardware:
    return Hardware("tie", "plate tie", 1, (at, 2438.4, DEPTH / 2), WHY, (id,), HardwareKind.TIE)


@pytest.mark.parametrize(
    ("share", "hardware", "allowed"),
    [
        (0.5, (), True),
        (0.51, (), False),
        (0.51, (tie(600.0),), True),
        (0.51, (tie(900.0),), False),
        (0.51, (tie(600.0, "other"),), False),
    ],
    ids=["half", "more than half", "tied", "tied elsewhere", "another plate tied"],
)
def test_top_plate_cut_more_than_half_needs_a_tie(share: float, hardware: tuple[Hardware, ...], allowed: bool) -> None:
    top = plate(
        "top", 2400.3, 2000.0, role=Role.TOP_PLATE, bores=[Bore((600.0, DEPTH / 2, 0.0), share * DEPTH, run="P1")]
    )
    findings = found(top, hardware=hardware)
    assert about(findings) == ([] if allowed else [("bore.plate", "top", "P1")])
    assert all("R602.6.1" in finding.source for finding in findings)


def test_top_plate_of_a_nonbearing_partition_needs_none() -> None:
    top = plate("top", 2400.3, 2000.0, role=Role.TOP_PLATE, bores=[Bore((600.0, DEPTH / 2, 0.0), 0.6 * DEPTH)])
    assert found(top, bearing=False, **INTERIOR) == []


@pytest.mark.parametrize(("inches", "allowed"), [(3.08, True), (3.09, False)])
def test_joists_take_a_third(inches: float, allowed: bool) -> None:
    """A 2x10 is 9-1/4 in. deep."""
    joist = bored(9.25 * INCH, inches * INCH, role=Role.JOIST)
    assert about(found(joist)) == ([] if allowed else [("bore.size", "stick", "P1")])


def test_joists_keep_two_inches_to_the_edge_and_notches_to_a_sixth() -> None:
    near = bored(9.25 * INCH, INCH, y=(9.25 - 2.4) * INCH, role=Role.JOIST)
    assert about(found(near)) == [("bore.edge", "stick", "P1")]
    for depth, expected in ((1.54, []), (1.55, [("notch.depth", "joist")])):
        notched = member(
            "joist", Role.JOIST, WORLD, (3000.0, 9.25 * INCH, 38.1), notches=[Notch(300.0, 350.0, depth * INCH)]
        )
        assert about(found(notched)) == expected


def test_no_rule_lets_a_header_be_bored() -> None:
    (finding,) = found(bored(TWO_BY_SIX, 20.0, role=Role.HEADER))
    assert (finding.code, finding.severity) == ("bore.unruled", Severity.STOP)


@pytest.mark.parametrize("role", [Role.BLOCKING, Role.BOTTOM_PLATE, Role.STRAP])
def test_other_sticks_only_need_the_hole_to_stay_in_the_face(role: Role) -> None:
    assert found(bored(TWO_BY_FOUR, 60.0, role=role)) == []
    assert about(found(bored(TWO_BY_FOUR, 60.0, y=20.0, role=role))) == [("bore.edge", "stick", "P1")]


@pytest.mark.parametrize(("x", "allowed"), [(13.0, True), (12.0, False), (2388.0, False)])
def test_holes_stay_clear_of_the_ends(x: float, allowed: bool) -> None:
    hole = member("stick", size=(2400.0, DEPTH, 38.1), bores=[Bore((x, DEPTH / 2, 0.0), 25.0)])
    assert about(found(hole)) == ([] if allowed else [("bore.end", "stick")])


def test_slanted_holes_count_by_their_ellipse() -> None:
    """A 40 mm hole at 45 degrees up the width is 56.6 mm long on the face: more than 40 % of a 2x6."""
    slanted = member("stick", bores=[Bore((600.0, 50.8, 0.0), 40.0, (0.0, 0.5**0.5, 0.5**0.5))])
    (finding,) = found(slanted)
    assert finding.code == "bore.size"
    assert finding.value == pytest.approx(40.0 * 2**0.5)


def test_hole_through_the_narrow_face() -> None:
    assert about(found(member("stick", bores=[Bore((600.0, 0.0, 19.0), 20.0, (0.0, 1.0, 0.0))]))) == [
        ("bore.face", "stick")
    ]


def test_holes_that_run_into_each_other_count_as_one() -> None:
    def pair(apart: float, diameter: float) -> Member:
        low = DEPTH / 2 - apart / 2
        return member(
            "stick",
            bores=[Bore((600.0, low, 0.0), diameter, run="P1"), Bore((600.0, low + apart, 0.0), diameter, run="P2")],
        )

    assert found(pair(30.0, 25.0)) == []
    (finding,) = found(pair(20.0, 25.0))
    assert (finding.code, finding.severity) == ("bore.overlap", Severity.WARN)
    assert finding.parts == ("stick", "P1", "P2")
    (finding,) = found(pair(32.0, 34.0))
    assert (finding.code, finding.value) == ("bore.size", pytest.approx(66.0))


def test_one_hole_for_two_runs_names_both() -> None:
    (finding,) = found(member("stick", bores=[Bore((600.0, DEPTH / 2, 0.0), 80.0, run="P1+P2")]))
    assert finding.parts == ("stick", "P1", "P2")
