"""What counts as a new finding, and which ends of runs have to stay where they are."""

from __future__ import annotations

from collections import Counter

from panelgen import api
from panelgen.proposals import Standing
from panelgen.proposals.courses import course_of
from panelgen.proposals.standing import brings_new
from panelgen.spec import loads
from tests.proposals.houses import spec_text

TWO = ("bore.size", "1W01", ("stud-3", "V1", "V2"))
ONE = ("bore.size", "1W01", ("stud-3", "V1"))
OTHER = ("bore.size", "1W01", ("stud-4", "V1"))


def held(*paths: str) -> tuple[bool, bool]:
    """Which ends of the first of these vents are held."""
    lines = [
        f"  - {{id: V{n}, system: vent, size: pvc-1-1/2, wall: west, path: {path}}}" for n, path in enumerate(paths)
    ]
    spec = loads(spec_text(*lines))
    house = api.design(spec)
    course = course_of(Standing.of(spec, house, ()), "V0")
    assert course is not None
    return course.held


def test_a_finding_that_lost_a_part_is_not_new() -> None:
    assert not brings_new(Counter([TWO]), Counter([ONE]))
    assert brings_new(Counter([ONE]), Counter([TWO]))


def test_another_stick_or_one_more_of_the_same_is_new() -> None:
    assert brings_new(Counter([ONE]), Counter([OTHER]))
    assert brings_new(Counter([ONE]), Counter([ONE, ONE]))
    assert brings_new(Counter([TWO, ONE]), Counter([TWO, ONE, OTHER]))


def test_a_run_that_meets_another_at_its_end_is_held_there() -> None:
    assert held("[[50, 20, framing], [58, 20, framing]]", "[[58, 20, framing], [66, 20, framing]]") == (False, True)
    assert held("[[50, 20, framing], [58, 20, framing]]") == (False, False)


def test_a_run_laid_into_another_lengthwise_is_not_held() -> None:
    assert held("[[52, 20, framing], [60, 20, framing]]", "[[50, 20, framing], [66, 20, framing]]") == (False, False)
