"""Single clashes in a small house: what is proposed is the least, it solves, and it breaks nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from panelgen import api
from panelgen.errors import BadValueError
from panelgen.model import Finding, Proposal
from panelgen.proposals import changed
from panelgen.spec import HouseSpec, loads
from tests.proposals.houses import spec_text


def run(id: str, size: str, path: str, wall: str = "west") -> str:
    """A line of the list of runs, in inches along the wall."""
    systems = {"nm-12/2": "power", "nm-14/2": "power", "pex-1/2": "cold water", "emt-1/2": "power", "pvc-2": "vent"}
    return f"  - {{id: {id}, system: {systems[size]}, size: {size}, wall: {wall}, path: {path}}}"


def stops(spec: HouseSpec) -> list[Finding]:
    """The stop findings of a spec, with what is proposed."""
    house = api.design(spec)
    findings = api.propose(spec, house, api.check(house))
    return [finding for finding in findings if finding.severity == "stop"]


def proposed(text: str, code: str) -> Proposal:
    """The proposal for the first finding with that code, which is there; what is left after it is checked."""
    spec = loads(text)
    found = stops(spec)
    first = next(finding for finding in found if finding.code == code)
    assert first.proposal is not None
    if first.proposal.changes:
        after = api.check(api.design(changed(spec, first.proposal.changes)))
        keys = {(one.code, one.panel, one.parts) for one in after}
        assert (first.code, first.panel, first.parts) not in keys
        assert keys <= {(one.code, one.panel, one.parts) for one in api.check(api.design(spec))}
    return first.proposal


def test_a_pipe_in_a_stud_moves_beside_it() -> None:
    # A stud on the 24 in layout is 1.5 in thick and the pipe 0.625 in: 1.0625 in from centre to centre.
    proposal = proposed(spec_text(run("P1", "pex-1/2", "[[48, 20, framing], [48, 44, framing]]")), "run.member")
    assert proposal.cost == pytest.approx(1.0625 * 25.4, abs=0.01)
    assert {change.path[:3] for change in proposal.changes} == {("runs", 0, "path")}
    assert proposal.words.startswith("move run P1 1 1/16 in toward the ")


def test_a_conduit_near_the_edge_moves_deeper() -> None:
    # IRC R602.6: 5/8 in of wood to the edge, which the move in depth restores.
    proposal = proposed(spec_text(run("E1", "emt-1/2", "[[41, 22, 0.75], [55, 22, 0.75]]")), "bore.edge")
    assert "toward the weather side" in proposal.words
    assert [change.path for change in proposal.changes] == [("runs", 0, "path", 0, 2), ("runs", 0, "path", 1, 2)]


def test_a_hole_too_big_leads_the_pipe_out_of_the_stud_and_not_to_a_smaller_one() -> None:
    proposal = proposed(spec_text(run("V1", "pvc-2", "[[44, 26, framing], [53, 26, framing]]")), "bore.size")
    assert all(change.path[:3] == ("runs", 0, "path") for change in proposal.changes)


def test_a_cable_over_a_window_is_led_around_with_its_ends_kept() -> None:
    text = spec_text(run("C1", "nm-12/2", "[[90, 70, cavity], [150, 70, cavity]]", wall="south"))
    proposal = proposed(text, "run.opening")
    spec = changed(loads(text), proposal.changes)
    assert (spec.runs[0].path[0], spec.runs[0].path[-1]) == ((2286.0, 1778.0, "cavity"), (3810.0, 1778.0, "cavity"))


def test_a_stub_through_the_barrier_is_left_to_a_person() -> None:
    text = spec_text(run("C1", "nm-12/2", "[[60, 40, cavity], [60, 40, framing]]"))
    proposal = proposed(text, "barrier.pierced")
    assert proposal.changes == ()
    assert "declare a sealed sleeve" in proposal.words


def with_partition(*runs: str) -> str:
    """The small house with a partition across it, 8 ft along the west wall, of 2x4 and nothing else."""
    line = "    walls: [{wall: mid, assembly: thin, start: [0, 8 ft], end: [20 ft, 8 ft]}]\nunit_types:"
    text = spec_text(*runs).replace("unit_types:", line, 1)
    return text.replace("levels:", "  thin: {layers: [{layer: framing, stock: 2x4, insulation: null}]}\nlevels:", 1)


def test_a_riser_in_a_stud_passes_behind_the_backing_beside_it() -> None:
    """Backing on both sides of the stud is 1-1/2 in. deep: the pipe leaves the stud and goes deeper at once."""
    backing = "backing: [{id: B1, wall: mid, start: 24, end: 72, height: 34, kind: blocking, reason: grab bar}]"
    text = with_partition(run("P1", "pex-1/2", "[[48, 20, framing], [48, 48, framing]]", wall="mid")) + backing
    assert {change.path[-1] for change in proposed(text, "run.member").changes} == {0, 2}


def test_a_riser_in_the_end_of_a_partition_moves_along_its_own_wall() -> None:
    """The partition ends in the cavity of the west wall; the cable there is led past beside its end stud."""
    text = with_partition(run("D1", "nm-14/2", "[[94.5, 5, cavity], [94.5, 14, cavity]]"))
    proposal = proposed(text, "run.member")
    assert {change.path for change in proposal.changes} == {("runs", 0, "path", 0, 0), ("runs", 0, "path", 1, 0)}


def test_a_clean_house_is_left_as_it_is() -> None:
    spec = loads(spec_text(run("C1", "nm-12/2", "[[24, 16, cavity], [84, 16, cavity]]")))
    house = api.design(spec)
    findings = api.check(house)
    assert api.propose(spec, house, findings) == findings


def test_applying_changes_only_what_clashes(tmp_path: Path) -> None:
    quiet = run("C1", "nm-12/2", "[[24, 16, cavity], [84, 16, cavity]]")
    before, after = tmp_path / "house.yaml", tmp_path / "solved.yaml"
    before.write_text(
        spec_text(quiet, run("P1", "pex-1/2", "[[48, 20, framing], [48, 44, framing]]")), encoding="utf-8"
    )
    applied = api.apply_proposals(before, after)
    old, new = (file.read_text(encoding="utf-8").splitlines() for file in (before, after))
    assert [b.split(",")[0] for a, b in zip(old, new, strict=True) if a != b] == ["  - {id: P1"]
    assert [one.finding.code for one in applied.solved] == ["run.member"]
    assert not [one for one in applied.findings if one.severity == "stop"]
    assert api.load(after) == applied.spec


def test_the_spec_itself_is_never_written_over(tmp_path: Path) -> None:
    file = tmp_path / "house.yaml"
    file.write_text(spec_text(run("C1", "nm-12/2", "[[24, 16, cavity], [84, 16, cavity]]")), encoding="utf-8")
    with pytest.raises(BadValueError, match="house spec itself"):
        api.apply_proposals(file, file)
