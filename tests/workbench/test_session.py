"""A session: steps, what they change, going back, waivers, ways out, and files."""

from __future__ import annotations

from pathlib import Path

import pytest

from panelgen import api
from panelgen.errors import BadValueError, ExportError, SpecError
from panelgen.workbench import Session
from tests.workbench.examples import ONE_WALL, SPACING, crossed, differing_lines


@pytest.fixture
def session() -> Session:
    """One wall, just opened."""
    return Session.open(ONE_WALL)


@pytest.fixture(scope="module")
def solved() -> Session:
    """A wall with a fault, its way out looked for."""
    session = Session(crossed())
    session.propose()
    return session


def test_an_edit_makes_what_the_edited_spec_makes(session: Session) -> None:
    change = session.edit(SPACING, 16)
    house = api.design(api.load(ONE_WALL).model_copy(update={"assemblies": session.spec.assemblies}))
    assert [member.id for member in session.house.panels[0].members] == [one.id for one in house.panels[0].members]
    assert change.redone == {"1W01"}
    before, now = session.figures("1W01")
    assert before is not None
    assert now is not None
    assert now.members > before.members
    assert now.mass > before.mass
    assert now.insulation < before.insulation
    assert 0 < now.sheet_waste < 1
    assert session.spec.assemblies["exterior"].framing.spacing == pytest.approx(406.4)


def test_only_the_edited_words_of_the_text_change(session: Session) -> None:
    session.edit(SPACING, "16 in")
    session.edit(("openings", 0, "sill"), "2'-6\"")
    old, new = zip(*differing_lines(ONE_WALL.read_text(encoding="utf-8"), session.text), strict=True)
    assert "spacing: 24," in old[0]
    assert "spacing: 16 in," in new[0]
    assert new[1].startswith("  - {id: W1, wall: N1, type: casement-36x48, center: 4 ft, sill: ")
    assert session.spec.openings[0].sill == pytest.approx(762.0)


def test_what_was_left_out_is_written_where_it_belongs(session: Session) -> None:
    session.edit(("unit_types", "casement-36x48", "clearance", "side"), "3/4")
    assert session.spec.unit_types["casement-36x48"].clearance.side == pytest.approx(19.05)
    assert session.spec.unit_types["casement-36x48"].clearance.head == pytest.approx(12.7)


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (SPACING, 1, "less than 100 mm"),
        (SPACING, "wide", "not a length"),
        (("openings", 0, "center"), "90 ft", "beyond the ends"),
        (("openings", 0, "type"), "no-such", "no-such"),
        (("boxes", 0, "product"), "no-such", "no-such"),
    ],
)
def test_a_value_that_will_not_do_says_why_and_changes_nothing(
    session: Session, path: tuple[str | int, ...], value: object, words: str
) -> None:
    session.edit(SPACING, 16)
    house, text, undoes = session.house, session.text, session.undoes
    with pytest.raises(SpecError, match=words):
        session.edit(path, value)
    assert (session.house, session.text, session.undoes) == (house, text, undoes)


def test_a_path_that_leads_nowhere_is_refused(session: Session) -> None:
    with pytest.raises(BadValueError, match="leads nowhere"):
        session.edit(("openings", 9, "center"), 1)


def test_undo_and_redo_go_through_all_that_was(session: Session) -> None:
    seen = [(session.text, session.house)]
    for spacing in (16, 12, 19.2):
        session.edit(SPACING, spacing)
        seen.append((session.text, session.house))
    for text, house in reversed(seen[:-1]):
        assert session.undo()
        assert (session.text, session.house) == (text, house)
    assert not session.undo()
    assert session.is_saved
    for text, house in seen[1:]:
        assert session.redo()
        assert (session.text, session.house) == (text, house)
    assert not session.redo()


def test_the_same_in_other_words_is_no_step(session: Session) -> None:
    session.edit(SPACING, "24 in")
    assert session.undoes == ""
    assert session.is_saved


def test_a_new_step_forgets_what_was_undone(session: Session) -> None:
    session.edit(SPACING, 16)
    session.undo()
    session.edit(SPACING, 12)
    assert session.redoes == ""
    assert session.undoes == "spacing 12"


def test_tries_are_one_step_with_what_is_meant_at_last(session: Session) -> None:
    text = session.text
    for spacing in (22, 20, 18):
        session.edit(SPACING, spacing, trying=True)
    change = session.edit(SPACING, 16)
    assert change.redone == {"1W01"}
    before, _ = session.figures("1W01")
    session.undo()
    assert session.text == text
    assert session.figures("1W01")[1] == before
    assert session.undoes == ""


def test_findings_that_come_are_told(session: Session) -> None:
    change = session.edit(("runs", 0, "path"), [[40, 50, "cavity"], [56, 50, "cavity"]])
    assert change.new
    assert set(change.new) <= set(session.findings)
    session.undo()
    assert len(session.change.gone) == len(change.new)


def test_a_waiver_is_written_and_counts(solved: Session) -> None:
    finding = next(one for one in solved.findings if one.severity == "stop" and one.parts and not one.waived_by)
    solved.waive(finding, "accepted by the engineer", "A. Bee")
    try:
        waiver = solved.spec.waivers[-1]
        assert (waiver.code, waiver.part, waiver.decided_by) == (finding.code, finding.parts[0], "A. Bee")
        accepted = next(one for one in solved.findings if (one.code, one.parts) == (finding.code, finding.parts))
        assert accepted.waived_by == "A. Bee: accepted by the engineer"
        assert solved.text.startswith(crossed())
        assert solved.change.redone == frozenset()
    finally:
        solved.undo()


@pytest.mark.parametrize(("reason", "by"), [("", "A. Bee"), ("because", "  ")])
def test_a_waiver_needs_a_reason_and_a_name(solved: Session, reason: str, by: str) -> None:
    finding = next(one for one in solved.findings if one.parts)
    with pytest.raises(BadValueError, match="a waiver needs"):
        solved.waive(finding, reason, by)


def test_a_way_out_is_applied(solved: Session) -> None:
    finding = next(one for one in solved.findings if one.proposal and one.proposal.changes)
    change = solved.apply(finding)
    try:
        assert [(one.code, one.parts) for one in change.gone] == [(finding.code, finding.parts)]
        assert change.new == ()
        assert change.redone
    finally:
        solved.undo()


def test_nothing_is_applied_where_nothing_is_known(session: Session) -> None:
    finding = session.findings[0]
    with pytest.raises(BadValueError, match="nothing to apply"):
        session.apply(finding)


def test_a_search_can_be_stopped() -> None:
    class StopHereError(Exception):
        pass

    def stop(done: int, total: int) -> None:
        raise StopHereError

    faulty = Session(crossed())
    findings = faulty.findings
    with pytest.raises(StopHereError):
        faulty.propose(stop)
    assert faulty.findings == findings


def test_saved_text_is_whole_and_opens_again(session: Session, tmp_path: Path) -> None:
    session.edit(SPACING, 16)
    assert not session.is_saved
    session.save(tmp_path / "edited.yaml")
    assert session.is_saved
    assert Session.open(tmp_path / "edited.yaml").text == session.text
    assert [file.name for file in tmp_path.iterdir()] == ["edited.yaml"]
    with pytest.raises(ExportError):
        session.save(tmp_path / "no" / "folder.yaml")


def test_line_ends_are_kept(tmp_path: Path) -> None:
    file = tmp_path / "dos.yaml"
    file.write_bytes(ONE_WALL.read_bytes().replace(b"\n", b"\r\n"))
    session = Session.open(file)
    session.edit(SPACING, 16)
    session.save(file)
    content = file.read_bytes()
    assert content.count(b"\r\n") == content.count(b"\n")
    assert b"spacing: 16," in content
