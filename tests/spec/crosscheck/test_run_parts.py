"""Branches, fittings, insulation and what is in a box: what a spec may ask of them."""

from __future__ import annotations

import math
import time
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panelgen.catalog import Catalog
from panelgen.errors import Problem
from panelgen.spec import loads
from panelgen.spec.crosscheck.run_parts import bad_branches
from panelgen.spec.crosscheck.survey import survey

LAST = "path: [[1000, 1000, 0], [1000, 1000, 5000]]}"
R2 = "path: [[500, 300, framing], [500, 300, 140], [900, 300, 140]]}"
BOX = "at: [3000, 300]}"
BRANCH = "  - {{id: R4, system: vent, {size}, branch_of: {trunk}, {path}}}\n"
Refusal = Callable[..., Problem]


def more(text: str) -> tuple[str, str]:
    """An edit that adds to the last run of the good spec."""
    return LAST, f"{LAST[:-1]}, {text}}}"


def branch(path: str, trunk: str = "R3", size: str = "size: pex-1/2") -> tuple[str, str]:
    """An edit that adds a run R4 after the last one."""
    return LAST, f"{LAST}\n  - {{id: R4, system: vent, {size}, branch_of: {trunk}, {path}}} #!"


@pytest.mark.parametrize(
    ("text", "field", "words", "remedy"),
    [
        ("insulation: -1", "runs[2].insulation", "must not be negative", "0 or more"),
        ("bend: 0", "runs[2].bend", "greater than 0", "greater than 0"),
        ("flow: up", "runs[2].flow", "not one of the choices", "forward"),
        ("lay: on edge", "runs[2].lay", "only a rectangular size", "leave it out"),
        ("branch_of: R9", "runs[2].branch_of", "no run of this name", "R1"),
        ("branch_of: R3", "runs[2].branch_of", "cannot branch off itself", "the run it starts on"),
        ("branch_of: R1", "runs[2].path[0]", "branches off run R1, but starts", "start it on that run"),
        ("fittings: [{kind: coupling}]", "runs[2].fittings[0]", "neither of at and share", "a share of it"),
        ("fittings: [{kind: coupling, at: 1, share: 0.5}]", "runs[2].fittings[0]", "each of at and share", "distance"),
        ("fittings: [{kind: elbow, share: 1.5}]", "runs[2].fittings[0].share", "more than 1", "1 or less"),
        ("fittings: [{kind: elbow, share: half}]", "runs[2].fittings[0].share", "not a number", "plain number"),
        ("fittings: [{kind: elbow, share: .nan}]", "runs[2].fittings[0].share", "not a number", "plain number"),
        ("fittings: [{kind: union, at: 0}]", "runs[2].fittings[0].kind", "not one of the choices", "choose one of"),
        ("fittings: [{kind: coupling, at: 5001}]", "runs[2].fittings[0].at", "beyond the end of run R3, which is 5000",
         "from its first"),
        ("fittings: [{kind: elbow, at: 2500}]", "runs[2].fittings[0].at", "does not turn here", "where the run turns"),
    ],
)  # fmt: skip
def test_what_a_run_cannot_ask(refusal: Refusal, text: str, field: str, words: str, remedy: str) -> None:
    problem = refusal(*more(text))
    assert problem.field == field
    assert words in problem.message
    assert remedy in problem.remedy


@pytest.mark.parametrize(
    ("path", "away"),
    [
        ("path: [[1020, 1000, 100], [1500, 1000, 100]]", "20 mm"),
        ("path: [[1000, 1000, 5010], [1500, 1000, 5010]]", "10 mm"),
    ],
)
def test_a_branch_starts_on_its_trunk(refusal: Refusal, path: str, away: str) -> None:
    """1/2 in. PEX is 15.9 mm across, so its branch may start up to 7.9 mm from its centre line."""
    problem = refusal(*branch(path))
    assert problem.field == "runs[3].path[0]"
    assert f"off run R3, but starts {away} from its centre line" in problem.message


@pytest.mark.parametrize(
    "edit",
    [
        branch("path: [[1000, 1000, 2500], [1500, 1000, 2500]]"),
        branch("path: [[1007.9, 1000, 2500], [1500, 1000, 2500]]"),
        branch("path: [[1000, 1000, 5000], [1500, 1000, 5000]]"),
        # R2 runs in wall W, which goes from (0, 6000) to the origin, its framing 139.7 mm deep.
        branch("path: [[69.85, 5500, 300], [69.85, 5500, 900]]", "R2"),
        branch("wall: W, path: [[700, 300, 140], [700, 900, 140]]", "R2"),
    ],
)
def test_a_branch_may_start_anywhere_on_its_trunk(edited: Callable[..., str], edit: tuple[str, str]) -> None:
    assert loads(edited(edit[0], edit[1].replace(" #!", ""))).runs[3].branch_of in ("R2", "R3")


def test_runs_that_branch_off_one_another_are_named(
    edited: Callable[..., str], problems: Callable[[str], tuple[Problem, ...]]
) -> None:
    old, new = branch("path: [[1000, 1000, 0], [1500, 1000, 0]]")
    found = problems(edited(old, new.replace(LAST, f"{LAST[:-1]}, branch_of: R4}}", 1)))
    assert [problem.field for problem in found] == ["runs[2].branch_of", "runs[3].branch_of"]
    assert all("nor off its own branch" in problem.message for problem in found)


def test_branches_of_a_faulty_run_are_no_faults_of_their_own(
    edited: Callable[..., str], problems: Callable[[str], tuple[Problem, ...]]
) -> None:
    old, new = branch("path: [[1000, 1000, 0], [1500, 1000, 0]]")
    twig = "\n  - {id: R5, system: vent, size: pex-1/2, branch_of: R4, path: [[1500, 1000, 0], [1500, 1000, 9]]}"
    (problem,) = problems(
        edited(old, new + twig, "system: vent, size: pex-1/2, path", "system: wind, size: pex-1/2, path")
    )
    assert problem.field == "runs[2].system"


def test_only_a_size_of_the_catalog_has_fittings(refusal: Refusal) -> None:
    problem = refusal(R2, f"{R2[:-1]}, fittings: [{{kind: elbow, share: 0}}]}}")
    assert problem.field == "runs[1].fittings[0].kind"
    assert "only a diameter" in problem.message


def test_a_cable_has_no_fittings(refusal: Refusal) -> None:
    old = "path: [[3000, 300, cavity], [3000, 2000, cavity]]}"
    problem = refusal(old, f"{old[:-1]}, fittings: [{{kind: tee, share: 0.5}}]}}")
    assert "no tee for nm-12/2" in problem.message
    assert "has no fittings" in problem.remedy


def test_insulation_counts_in_the_thickness_of_a_run(refusal: Refusal, edited: Callable[..., str]) -> None:
    """Wall W is 200.9 mm deep."""
    assert loads(edited("diameter: 16", "diameter: 16, insulation: 92.4")).runs[1].insulation == 92.4
    problem = refusal("diameter: 16", "diameter: 16, insulation: 93")
    assert problem.field == "runs[1].diameter"
    assert problem.value == "202 mm"


def test_a_duct_on_edge_is_as_thick_as_it_is_wide(refusal: Refusal, edited: Callable[..., str]) -> None:
    """A 3-1/4 x 10 duct fits a wall 200.9 mm deep, but not on edge."""
    flat = ("diameter: 16", "size: duct-3-1/4x10")
    assert loads(edited(*flat)).runs[1].lay == "flat"
    problem = refusal("diameter: 16", "size: duct-3-1/4x10, lay: on edge")
    assert problem.field == "runs[1].size"
    assert problem.value == "254 mm"


@pytest.mark.parametrize(
    ("text", "field", "words"),
    [
        ("fill: {wires: []}", "fill.wires", "too few"),
        ("fill: {wires: [{gauge: 13, count: 4}]}", "fill.wires[0].gauge", "no wire gauge of this name"),
        ("fill: {wires: [{gauge: 12, count: 0}]}", "fill.wires[0].count", "greater than 0"),
        ("fill: {wires: [{gauge: 12, count: 1.5}]}", "fill.wires[0].count", "not a whole number"),
        ("fill: {wires: [{gauge: 12, count: 2}], devices: -1}", "fill.devices", "negative"),
        ("fill: {wires: [{gauge: 12, count: 2}], clamps: maybe}", "fill.clamps", "neither true nor false"),
        ("back: -1", "back", "negative"),
    ],
)
def test_what_a_box_cannot_hold(refusal: Refusal, text: str, field: str, words: str) -> None:
    problem = refusal(BOX, f"{BOX[:-1]}, {text}}}")
    assert problem.field == f"boxes[0].{field}"
    assert words in problem.message


def test_a_box_says_what_is_in_it(edited: Callable[..., str]) -> None:
    """A receptacle, clamps and grounds are the usual contents: common practice, no source."""
    box = loads(edited(BOX, f"{BOX[:-1]}, fill: {{wires: [{{gauge: 12, count: 4}}]}}, back: 1/4 in}}")).boxes[0]
    assert box.fill is not None
    assert (box.fill.devices, box.fill.clamps, box.fill.grounds) == (1, True, True)
    assert box.back == pytest.approx(6.35)


@given(x=st.floats(0, 5000), y=st.floats(0, 2000), z=st.floats(-200, 200))
def test_places_of_a_wall_lie_square_to_it(good_survey: object, x: float, y: float, z: float) -> None:
    wall = good_survey.walls["N"]
    framing = 139.7
    foot, at = wall.place(x, 0.0, framing, framing), wall.place(x, y, z, framing)
    assert math.dist(foot, wall.place(0.0, 0.0, framing, framing)) == pytest.approx(x, abs=1e-6)
    assert math.dist(foot, at) == pytest.approx(math.hypot(y, z - framing), abs=1e-6)


@pytest.fixture(scope="module")
def good_survey() -> object:
    from tests.spec.conftest import GOOD

    return survey(loads(GOOD), Catalog.default())


@pytest.mark.parametrize(
    ("path", "field", "words"),
    [
        ("[[1000, 1000, 0], [1000, 1000, 0]]", "runs[2].path[1]", "the one before it again"),
        ("[[1000, 1000, 0]]", "runs[2].path", "too few"),
        ("[[1000, 1000, .nan], [1000, 1000, 5000]]", "runs[2].path[0][2]", "must be a finite number"),
        ("[[1000, .inf, 0], [1000, 1000, 5000]]", "runs[2].path[0][1]", "must be a finite number"),
        ("[[1000, 1000], [1000, 1000, 5000]]", "runs[2].path[0]", "too few"),
    ],
)
def test_paths_that_lead_nowhere(refusal: Refusal, path: str, field: str, words: str) -> None:
    problem = refusal("path: [[1000, 1000, 0], [1000, 1000, 5000]]}", f"path: {path}}}")
    assert problem.field == field
    assert words in problem.message


def test_an_unknown_system_is_named(refusal: Refusal) -> None:
    problem = refusal("system: vent, size: pex-1/2", "system: vents, size: pex-1/2")
    assert (problem.field, problem.remedy) == ("runs[2].system", "did you mean vent?")


def test_a_long_chain_of_branches_is_followed_once(edited: Callable[..., str]) -> None:
    """Every run is looked at once, however many branch off one another."""
    rows = [
        f"  - {{id: B{n}, system: vent, size: pex-1/2, branch_of: {f'B{n - 1}' if n else 'R3'},"
        f" path: [[1000, 1000, {n}], [1000, 1000, {n + 1}]]}}"
        for n in range(3000)
    ]
    house = loads(edited(LAST, "\n".join([LAST, *rows])))
    start = time.process_time()
    assert list(bad_branches(survey(house, Catalog.default()))) == []
    assert time.process_time() - start < 1.0
