"""Names that point to nothing in the file."""

from __future__ import annotations

from collections.abc import Iterator

from panelgen.spec.crosscheck.survey import Survey
from panelgen.spec.faults import Fault, unknown
from panelgen.spec.house import HouseSpec

__all__ = ["unknown_assemblies", "unknown_runs", "unknown_unit_types", "unknown_walls"]


def unknown_assemblies(survey: Survey) -> Iterator[Fault]:
    """The assembly of each outline and wall."""
    known = survey.house.assemblies
    for n, level in enumerate(survey.house.levels):
        for m, outline in enumerate(level.outlines):
            if outline.assembly not in known:
                yield unknown(("levels", n, "outlines", m, "assembly"), "assembly", outline.assembly, known)
    for wall in survey.drawn:
        own = wall.options.assembly
        if own is not None and own not in known:
            yield unknown((*wall.path, "assembly"), "assembly", own, known)


def unknown_walls(survey: Survey) -> Iterator[Fault]:
    """The wall of whatever is on one; services may name a deck or a plane of a roof, openings a dormer's front."""
    house = survey.house
    walls = dict.fromkeys(wall.id for wall in survey.drawn)
    others = dict.fromkeys((*(deck.id for deck in (*house.floors, *house.ceilings)), *_planes(house)))
    fronts = dict.fromkeys(
        opening.front for roof in house.roofs for opening in roof.openings if opening.dormer is not None
    )
    named: dict[str, list[str | None]] = {
        "openings": [opening.wall for opening in house.openings],
        "joints": [joint.wall for joint in house.joints],
        "no_joints": [stretch.wall for stretch in house.no_joints],
        "posts": [post.wall for post in house.posts],
        "runs": [run.wall for run in house.runs],
        "sleeves": [sleeve.wall for sleeve in house.sleeves],
        "boxes": [box.wall for box in house.boxes],
        "backing": [backing.wall for backing in house.backing],
        "trades": [trade.wall for trade in house.trades],
    }
    for section, names in named.items():
        known = walls | {"runs": others, "sleeves": others, "boxes": others, "openings": fronts}.get(section, {})
        for n, wall in enumerate(names):
            if wall is not None and wall not in known:
                yield unknown((section, n, "wall"), "wall", wall, known)


def _planes(house: HouseSpec) -> Iterator[str]:
    """The planes of roofs, as the design calls them: by roof and edge."""
    levels = {level.id: level for level in house.levels}
    for roof in house.roofs:
        if roof.level in levels:
            for edge, _ in roof.corners(levels[roof.level]):
                if roof.edge(edge).kind != "gable":
                    yield roof.plane(edge)


def unknown_unit_types(survey: Survey) -> Iterator[Fault]:
    """The unit type of each opening."""
    known = survey.house.unit_types
    for n, opening in enumerate(survey.house.openings):
        if opening.type not in known:
            yield unknown(("openings", n, "type"), "unit type", opening.type, known)


def unknown_runs(survey: Survey) -> Iterator[Fault]:
    """The run of each sleeve, and the one that a run branches off."""
    known = dict.fromkeys(run.id for run in survey.house.runs)
    for n, sleeve in enumerate(survey.house.sleeves):
        if sleeve.run not in known:
            yield unknown(("sleeves", n, "run"), "run", sleeve.run, known)
    for n, run in enumerate(survey.house.runs):
        if run.branch_of is not None and run.branch_of not in known:
            yield unknown(("runs", n, "branch_of"), "run", run.branch_of, known)
