"""Findings are grouped by cause: one wrong run is one group, whatever it meets and however many panels it crosses."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.model import Finding, Severity
from panelgen.review.groups import FindingGroup, group_findings
from panelgen.review.parts import PartKind, name_parts
from tests.review.findings import NOTE, STOP, WARN, found, house


def groups(*findings: Finding) -> tuple[FindingGroup, ...]:
    return group_findings(house(), findings)


def causes(*findings: Finding) -> list[tuple[str, int]]:
    return [(group.cause.id, group.count) for group in groups(*findings)]


def test_one_drain_through_many_studs_is_one_group() -> None:
    studs = [found("bore.edge", label, "r0", f"{label}.s0{k}") for label in ("1W01", "1W02", "1W03") for k in range(3)]
    (group,) = groups(*studs)
    assert (group.family, group.cause.words, group.count) == ("bore", "run r0", 9)
    assert group.panels == ("1W01", "1W02", "1W03")


def test_codes_of_one_family_are_one_group_and_others_are_not() -> None:
    assert causes(found("bore.edge", "1W01", "r0"), found("bore.size", "1W01", "r0")) == [("r0", 2)]
    assert causes(found("bore.edge", "1W01", "r0"), found("run.member", "1W01", "r0")) == [("r0", 1), ("r0", 1)]


def test_the_run_is_blamed_before_the_stick_and_the_opening() -> None:
    assert causes(found("bore.edge", "1W01", "1W01.s01", "r0")) == [("r0", 1)]
    assert causes(found("run.opening", "1W01", "W1", "r0")) == [("r0", 1)]
    assert causes(found("header.none", "1W01", "1W01.h0", "W1")) == [("W1", 1)]
    assert causes(found("box.member", "1W01", "1W01.s01", "1W01.box")) == [("1W01.box", 1)]


def test_of_two_runs_the_one_that_meets_most_is_blamed() -> None:
    met = [
        found("run.run", "1W01", "r1", "r0"),
        found("run.run", "1W02", "r0", "vent"),
        found("run.run", "1W03", "r1", "r0"),
    ]
    assert causes(*met) == [("r0", 3)]
    assert causes(found("run.run", "1W01", "r1", "r0")) == [("r1", 1)]


def test_part_that_the_model_lacks_is_laid_to_its_panel_and_then_to_the_house() -> None:
    left_out = [found("strap.short", "1W02", f"no-strap-{k}", severity=NOTE) for k in range(40)]
    (group,) = groups(*left_out)
    assert (group.cause.kind, group.cause.words) == (PartKind.PANEL, "panel 1W02")
    (group,) = groups(found("spec.note", "", severity=NOTE))
    assert (group.cause.kind, group.panels) == (PartKind.HOUSE, ())


def test_waived_findings_are_groups_of_their_own_and_come_last() -> None:
    waived = found("bore.edge", "1W01", "r0", waived_by="A. Engineer: tested")
    note = found("sheet.sliver", "1W03", severity=NOTE)
    standing = found("bore.edge", "1W02", "r0")
    assert [(group.waived_by, group.count) for group in groups(waived, note, standing)] == [
        ("", 1),
        ("", 1),
        ("A. Engineer: tested", 1),
    ]


def test_worst_first_then_by_panel_and_place() -> None:
    ordered = [
        found("spec.wrong", ""),
        found("run.opening", "1W01", "r1", at=(200.0, 300.0)),
        found("header.none", "1W01", "W1", at=(900.0, 100.0)),
        found("bore.edge", "1W02", "r0", at=(100.0, 100.0)),
        found("member.short", "1W01", "1W01.s01", severity=WARN, at=(0.0, 0.0)),
    ]
    assert [group.place for group in groups(*reversed(ordered))] == ordered


def test_severity_of_a_group_is_its_worst_and_that_finding_is_first() -> None:
    (group,) = groups(found("bore.overlap", "1W01", "r0", severity=WARN), found("bore.edge", "1W03", "r0"))
    assert group.severity is STOP
    assert group.codes == ("bore.edge", "bore.overlap")


PARTS = st.lists(st.sampled_from(["r0", "r1", "vent", "W1", "W2", "1W01.s01", "1W02.s01", "nothing"]), max_size=3)
FINDINGS = st.lists(
    st.builds(
        lambda code, panel, parts, severity, waived, x: found(
            code, panel, *parts, at=(x, 10.0), severity=severity, waived_by=waived
        ),
        st.sampled_from(["bore.edge", "bore.size", "run.run", "run.member"]),
        st.sampled_from(["1W01", "1W02", "1W03", ""]),
        PARTS,
        st.sampled_from(Severity),
        st.sampled_from(["", "A: b"]),
        st.floats(0, 3000),
    ),
    max_size=30,
)


@settings(max_examples=60, deadline=None)
@given(FINDINGS, st.randoms(use_true_random=False))
def test_every_finding_is_in_one_group_whatever_the_order(findings: list[Finding], order: random.Random) -> None:
    made = groups(*findings)
    assert sorted(map(repr, findings)) == sorted(repr(one) for group in made for one in group.findings)
    shuffled = list(findings)
    order.shuffle(shuffled)
    assert groups(*shuffled) == made
    for group in made:
        assert {one.waived_by for one in group.findings} == {group.waived_by}
        assert {one.code.partition(".")[0] for one in group.findings} == {group.family}
        assert min(list(Severity).index(one.severity) for one in group.findings) == list(Severity).index(group.severity)


@pytest.mark.parametrize(
    ("id", "words"),
    [("r0", "run r0"), ("W1", "window W1"), ("1W01.s01", "stud 1W01-05"), ("1W01.outer0", "sheet 1W01-O1")],
)
def test_parts_are_called_what_a_shop_calls_them(id: str, words: str) -> None:
    assert name_parts(house())[id].words == words
