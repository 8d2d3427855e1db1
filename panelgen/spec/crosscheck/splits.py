"""Joints that are asked for where there can be none, and stretches without joints that are not where they should be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from panelgen.spec.crosscheck.survey import TOLERANCE, Survey
from panelgen.spec.faults import Fault
from panelgen.spec.lines import Path
from panelgen.spec.splits import DeckJoint, DeckNoJoint, JointSpec

__all__ = ["bad_deck_joints", "bad_joints", "bad_no_joints", "bad_posts", "bad_roof_joints"]

_Opening = tuple[str, float, float]
"""Its id, and from where to where it is along the strip, mm."""


def bad_joints(survey: Survey) -> Iterator[Fault]:
    """A joint is within its wall, off openings and stretches without joints, and asked for once."""
    house = survey.house
    for n, joint in enumerate(house.joints):
        wall = survey.walls.get(joint.wall)
        if wall is not None and joint.at > wall.length - TOLERANCE:
            words = f"wall {wall.id} is {survey.text(wall.length)} long: no panels meet there"
            yield Fault(("joints", n, "at"), words, "measure along the wall from its start", survey.text(joint.at))
    for name in survey.walls:
        joints = [(n, one) for n, one in enumerate(house.joints) if one.wall == name]
        stretches = [(n, one) for n, one in enumerate(house.no_joints) if one.wall == name]
        yield from _contradictions(survey, (), joints, stretches, list(_openings(survey, name)) if joints else ())


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


def bad_posts(survey: Survey) -> Iterator[Fault]:
    """A post is on its wall, and off its openings."""
    for n, post in enumerate(survey.house.posts):
        wall = survey.walls.get(post.wall)
        if wall is None:
            continue
        if post.at > wall.length + TOLERANCE:
            words = f"wall {wall.id} is {survey.text(wall.length)} long: no post stands there"
            yield Fault(("posts", n, "at"), words, "measure along the wall from its start", survey.text(post.at))
        for opening, low, high in _openings(survey, post.wall):
            if low + TOLERANCE < post.at < high - TOLERANCE:
                words = f"the post would stand in {opening}"
                yield Fault(("posts", n, "at"), words, "stand it beside the opening", survey.text(post.at))


def bad_deck_joints(survey: Survey) -> Iterator[Fault]:
    """A joint of a floor or ceiling is in its outline, off openings and stretches without joints, and given once."""
    levels = {level.id: level for level in survey.house.levels}
    for section, decks in (("floors", survey.house.floors), ("ceilings", survey.house.ceilings)):
        for n, deck in enumerate(decks):
            across = 0 if deck.joists == "y" else 1
            ring = deck.ring(levels[deck.level]) if deck.level in levels else ()
            low, high = (pick((corner[across] for corner in ring), default=0.0) for pick in (min, max))
            for k, joint in enumerate(deck.joints):
                if ring and not low + TOLERANCE < joint.at < high - TOLERANCE:
                    words = f"{deck.id} reaches from {survey.text(low)} to {survey.text(high)}: no cassettes meet there"
                    path = (section, n, "joints", k, "at")
                    yield Fault(path, words, "give a plan coordinate across the joists", survey.text(joint.at))
            openings = [
                (f"opening {one.id}", one.at[across], one.at[across] + one.size[across]) for one in deck.openings
            ]
            joints, stretches = list(enumerate(deck.joints)), list(enumerate(deck.no_joints))
            yield from _contradictions(survey, (section, n), joints, stretches, openings)


def bad_roof_joints(survey: Survey) -> Iterator[Fault]:
    """A joint of a roof is off openings and stretches without joints, and given once."""
    for n, roof in enumerate(survey.house.roofs):
        for edge in dict.fromkeys(joint.edge for joint in roof.joints):
            joints = [(k, one) for k, one in enumerate(roof.joints) if one.edge == edge]
            stretches = [(k, one) for k, one in enumerate(roof.no_joints) if one.edge == edge]
            openings = [
                (f"opening {one.id}", one.at[0] - one.size[0] / 2, one.at[0] + one.size[0] / 2)
                for one in roof.openings
                if one.edge == edge
            ]
            yield from _contradictions(survey, ("roofs", n), joints, stretches, openings)


def _openings(survey: Survey, wall: str) -> Iterator[_Opening]:
    """The rough openings of a wall."""
    house = survey.house
    for opening in house.openings:
        unit = house.unit_types.get(opening.type)
        if unit is not None and opening.wall == wall:
            left, _, right, _ = opening.rough_opening(unit)
            yield f"the rough opening of {opening.id}", left, right


def _contradictions(
    survey: Survey,
    path: Path,
    joints: Sequence[tuple[int, DeckJoint | JointSpec]],
    stretches: Iterable[tuple[int, DeckNoJoint]],
    openings: Iterable[_Opening],
) -> Iterator[Fault]:
    """Joints of one strip that are asked for twice, in an opening, or where another line forbids them; each with its
    number in the list under `path`."""
    seen: dict[float, int] = {}
    stretches, openings = list(stretches), list(openings)
    for n, joint in joints:
        where, at = (*path, "joints", n, "at"), survey.text(joint.at)
        first = seen.setdefault(round(joint.at, 2), n)
        if first != n:
            yield Fault(where, f"joints[{first}] asks for this joint already", "take one of the two out", at)
        for name, left, right in openings:
            if left - TOLERANCE < joint.at < right + TOLERANCE:
                words = f"the joint falls in {name}"
                yield Fault(where, words, "move the joint beside the opening, or move the opening", at)
        for k, stretch in stretches:
            if stretch.start < joint.at < stretch.end:
                yield Fault(where, f"no_joints[{k}] forbids a joint there", "take one of the two out", at)
