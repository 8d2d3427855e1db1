"""What wood may lose.

Studs: WAC 296-150C-1000 (public law) and IRC 2018 R602.6 (read in a public copy, p. 203); rounded check
numbers from a county's framing handout. Joists: a public article on notching and boring, and an exam page.
"""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.units import inches

CATALOG = Catalog.default()
SHARED = pytest.mark.parametrize("rules", ["irc-2021", "irc-2012", "wac-246-359"])


@SHARED
@pytest.mark.parametrize(
    ("stock", "quarter", "two_fifths", "three_fifths"), [("2x4", 0.875, 1.40, 2.10), ("2x6", 1.375, 2.20, 3.30)]
)
def test_stud_limits_in_inches(rules: str, stock: str, quarter: float, two_fifths: float, three_fifths: float) -> None:
    width = CATALOG.stock(stock).width
    limits = CATALOG.rules(rules)
    assert limits.stud_notch(bearing=True).share * width == pytest.approx(inches(quarter))
    assert limits.stud_notch(bearing=False).share * width == pytest.approx(inches(two_fifths))
    assert limits.stud_bore(bearing=True).share * width == pytest.approx(inches(two_fifths))
    assert limits.stud_bore(bearing=True, doubled=True).share * width == pytest.approx(inches(three_fifths))
    assert limits.stud_bore(bearing=False).share * width == pytest.approx(inches(three_fifths))


@SHARED
def test_wood_left_at_the_edge(rules: str) -> None:
    for bearing in (True, False):
        bore = CATALOG.rules(rules).stud_bore(bearing)
        assert bore.edge_distance == pytest.approx(inches(5 / 8))
        assert (bore.grade, bore.severity) == ("A", "stop")


@SHARED
def test_no_more_than_two_doubled_studs_in_a_row(rules: str) -> None:
    limits = CATALOG.rules(rules)
    assert limits.stud_bore(bearing=True, doubled=True).successive == 2
    assert limits.stud_bore(bearing=True).successive is None
    assert limits.stud_bore(bearing=False, doubled=True) == limits.stud_bore(bearing=False)


def test_worked_notch_that_is_not_allowed() -> None:
    """Inspectors' forum question: 1-1/2 in. from an exterior 2x6 is too much, the limit being 1-3/8 in."""
    limit = CATALOG.rules("irc-2021").stud_notch(bearing=True).share * CATALOG.stock("2x6").width
    assert inches(1.5) > limit
    assert inches(1.375) <= limit + 1e-9


def test_worked_joist() -> None:
    """Exam page: a 2x10 may lose 1.54 in. for 3.08 in. of length, and 2.31 in. at its end."""
    depth = CATALOG.stock("2x10").width
    joist = CATALOG.rules("irc-2021").joist
    worked = [joist.notch_depth, joist.notch_length, joist.end_notch_depth, joist.bore]
    assert [share * depth for share in worked] == pytest.approx([inches(v) for v in (1.54, 3.08, 2.31, 3.08)], abs=0.13)
    assert joist.bore_edge_distance == pytest.approx(inches(2))


@SHARED
def test_top_plate_cut_beyond_half(rules: str) -> None:
    """IRC 2018 R602.6.1: a 0.054 in. by 1-1/2 in. galvanized tie; its nails are from memory."""
    limits = CATALOG.rules(rules)
    assert (limits.plate_tie.share, limits.plate_tie.grade) == (0.5, "A")
    assert (limits.plate_tie.thickness, limits.plate_tie.width) == (
        pytest.approx(inches(0.054)),
        pytest.approx(inches(1.5)),
    )
    assert limits.joint("plate tie").unverified
