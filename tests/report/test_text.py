"""The findings table can be read at 100 columns, worst first, with both systems of measurement."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.model import Finding, Partition, Severity, SplitCost
from panelgen.report.text import WIDTH, assumptions_text, findings_text
from tests.report.houses import BORE, HEAVY, REMARK, SHORT, WAIVED, house

ALL = [HEAVY, BORE, SHORT, REMARK, WAIVED]


def text(findings: list[Finding]) -> str:
    return findings_text(house(), house().panels, findings)


def test_a_finding_says_where_how_much_why_and_by_what_source() -> None:
    lines = text([BORE]).splitlines()
    at = next(number for number, line in enumerate(lines) if "bore.edge" in line)
    assert lines[at : at + 4] == [
        """  1W02  bore.edge  4'-2 1/2", 3'-0" (1283, 914 mm)  9.5 mm, limit 15.9 mm""",
        "      The bore leaves too little wood at the edge of the stud.",
        "      parts: 1W02-1, feed",
        "      source: IRC R602.6",
    ]


def test_where_a_row_would_be_too_wide_the_measure_has_its_own_line() -> None:
    lines = text([replace(BORE, code="a.code.that.is.longer.than.any.of.ours")]).splitlines()
    at = next(number for number, line in enumerate(lines) if "a.code" in line)
    assert lines[at].endswith("(1283, 914 mm)")
    assert lines[at + 1] == "      measured: 9.5 mm, limit 15.9 mm"


def test_other_units_are_named() -> None:
    assert "1500 kg, limit 1000 kg" in text([HEAVY])


def test_head_counts_parts_and_findings() -> None:
    lines = text(ALL).splitlines()
    assert lines[0] == "Test house (rules irc-2021)"
    assert lines[1].startswith("2 panels, 4 members, 0 sheets, 0 openings, 6 nails, 2 runs, ")
    assert lines[2] == "Findings: 2 stop, 1 warn, 1 note, 1 waived"


def test_how_many_splits_were_weighed_and_where_none_is_legal() -> None:
    best = Partition("N1", 0.0, 6096.0, (2438.4,), 9, 492, 3, SplitCost(2, 5.0, 1e5))
    roof = replace(best, wall="R-S", kind="roof", least=2)
    none = Partition("F2", 0.0, 6096.0, (), 0, 0, 0, kind="floor", least=3)
    for partitions, words in (
        ((best, best), "Splits: the best of 984 legal ones over 2 walls"),
        ((best, roof, roof), "Splits: the best of 1,476 legal ones over 1 wall, 2 roof parts"),
        (
            (roof, none),
            "Splits: the best of 492 legal ones over 1 floor field, 1 roof part; none is legal for F2 (1 panel,",
        ),
    ):
        assert words in findings_text(replace(house(), partitions=partitions), (), ()).splitlines()


def test_sections_come_worst_first_and_waived_last() -> None:
    heads = [line.split(":")[0] for line in text(ALL).splitlines() if line.split(":")[0].isupper()]
    assert heads == ["STOP", "WARN", "NOTE", "WAIVED"]


def test_panel_is_named_once_in_a_section() -> None:
    lines = text([BORE, replace(BORE, code="bore.share")]).splitlines()
    assert [line[2:6] for line in lines if "bore." in line] == ["1W02", "    "]


def test_findings_that_say_the_same_share_their_words() -> None:
    lines = text([BORE, replace(BORE, parts=("1W02-2", "feed"), point=(0.0, 914.4, 20.0))]).splitlines()
    at = next(number for number, line in enumerate(lines) if "bore.edge" in line)
    assert [line.strip() for line in lines[at : at + 5]] == [
        """1W02  bore.edge  4'-2 1/2", 3'-0" (1283, 914 mm)  9.5 mm, limit 15.9 mm""",
        """0'-0", 3'-0" (0, 914 mm)         9.5 mm, limit 15.9 mm""",
        "The bore leaves too little wood at the edge of the stud.",
        "parts: 1W02-1, feed, 1W02-2",
        "source: IRC R602.6",
    ]


def test_finding_about_no_panel_is_about_the_house() -> None:
    assert "  house  spec.note" in text([REMARK])


def test_nothing_found_says_so_and_cautions() -> None:
    lines = text([]).splitlines()
    assert lines[2] == "Findings: 0 stop, 0 warn, 0 notes"
    assert "licensed engineer" in " ".join(lines[3:])


def test_assumption_shows_field_value_and_source() -> None:
    assert assumptions_text(house().assumptions).splitlines()[1:] == [
        "  shop.line_height: 3048 mm [default of the spec]"
    ]


POINT = st.tuples(*[st.floats(-1e5, 1e5)] * 3)
FINDINGS = st.builds(
    Finding,
    code=st.from_regex(r"[a-z]{3,10}\.[a-z]{3,14}", fullmatch=True),
    severity=st.sampled_from(Severity),
    words=st.text("abcdefgh ", max_size=400),
    panel=st.from_regex(r"[1-9]W[0-9]{2}", fullmatch=True) | st.just(""),
    parts=st.lists(st.from_regex(r"[1-9]W[0-9]{2}-[0-9]{2}", fullmatch=True), max_size=30).map(tuple),
    point=POINT | st.none(),
    value=st.floats(-1e5, 1e5) | st.none(),
    limit=st.floats(-1e5, 1e5) | st.none(),
    source=st.text("abcdefgh ", max_size=200),
    waived_by=st.text("abcd ", max_size=20),
)


@settings(max_examples=40)
@given(st.lists(FINDINGS, max_size=8))
def test_no_line_is_wider_than_the_page(findings: list[Finding]) -> None:
    wide = [line for line in text(findings).splitlines() if len(line) > WIDTH and len(line.split()) > 1]
    assert wide == []
