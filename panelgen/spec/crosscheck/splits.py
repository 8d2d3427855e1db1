"""Joints that are asked for where there can be none, and stretches without joints that are not on their wall."""

from __future__ import annotations

from collections.abc import Iterator

from panelgen.spec.crosscheck.survey import TOLERANCE, Survey
from panelgen.spec.faults import Fault
from panelgen.spec.lines import Path
from panelgen.spec.splits import JointSpec

__all__ = ["bad_joints", "bad_no_joints"]


def bad_joints(survey: Survey) -> Iterator[Fault]:
    """A joint is within its wall, off openings and stretches without joints, and asked for once."""
    seen: dict[tuple[str, float], int] = {}
    for n, joint in enumerate(survey.house.joints):
        wall, path = survey.walls.get(joint.wall), ("joints", n, "at")
        if wall is None:
            continue
        at = survey.text(joint.at)
        if joint.at > wall.length - TOLERANCE:
            words = f"wall {wall.id} is {survey.text(wall.length)} long: no panels meet there"
            yield Fault(path, words, "measure along the wall from its start", at)
        first = seen.setdefault((joint.wall, round(joint.at, 2)), n)
        if first != n:
            yield Fault(path, f"joints[{first}] asks for this joint already", "take one of the two out", at)
        yield from _barred(survey, joint, path)


def bad_no_joints(survey: Survey) -> Iterator[Fault]:
    """A stretch without joints begins and ends on its wall."""
    for n, stretch in enumerate(survey.house.no_joints):
        wall = survey.walls.get(stretch.wall)
        if wall is None:
            continue
        for field, x in (("start", stretch.start), ("end", stretch.end)):
            if not -TOLERANCE <= x <= wall.length + TOLERANCE:
                words = f"this goes beyond the ends of wall {wall.id}, which is {survey.text(wall.length)} long"
                yield Fault(("no_joints", n, field), words, "measure along the wall from its start", survey.text(x))


def _barred(survey: Survey, joint: JointSpec, path: Path) -> Iterator[Fault]:
    """The openings and the stretches without joints that a joint falls in."""
    house, at = survey.house, survey.text(joint.at)
    for opening in house.openings:
        unit = house.unit_types.get(opening.type)
        if unit is None or opening.wall != joint.wall:
            continue
        left, _, right, _ = opening.rough_opening(unit)
        if left - TOLERANCE < joint.at < right + TOLERANCE:
            words = f"the joint falls in the rough opening of {opening.id}"
            yield Fault(path, words, "move the joint beside the opening, or move the opening", at)
    for n, stretch in enumerate(house.no_joints):
        if stretch.wall == joint.wall and stretch.start < joint.at < stretch.end:
            yield Fault(path, f"no_joints[{n}] forbids a joint there", "take one of the two out", at)
