"""Roofs and trusses whose names point to nothing, or whose footprint encloses nothing."""

from __future__ import annotations

from collections.abc import Iterator

from panelgen.spec.crosscheck.outlines import outline_faults
from panelgen.spec.crosscheck.survey import Survey
from panelgen.spec.faults import Fault, unknown
from panelgen.spec.lines import Path
from panelgen.spec.roofs import RoofSpec
from panelgen.spec.walls import Corner, Outline

__all__ = ["bad_roofs", "bad_trusses"]


def bad_roofs(survey: Survey) -> Iterator[Fault]:
    """Levels, assemblies, stock and edges that there are not; footprints that are no outline."""
    levels = {level.id: level for level in survey.house.levels}
    for n, roof in enumerate(survey.house.roofs):
        path: Path = ("roofs", n)
        if roof.assembly not in survey.house.assemblies:
            yield unknown((*path, "assembly"), "assembly", roof.assembly, survey.house.assemblies)
        for field in ("ridge", "hip", "valley", "fascia"):
            stock = getattr(roof, field)
            if stock is not None and stock not in survey.catalog.lumber:
                yield unknown((*path, field), "stock size", stock, survey.catalog.lumber)
        if roof.level not in levels:
            yield unknown((*path, "level"), "level", roof.level, levels)
            continue
        corners = roof.corners(levels[roof.level])
        if not corners:
            words = f"level {roof.level} has not one closed outline to take the footprint from"
            yield Fault((*path, "level"), words, "give the roof a footprint of its own")
        elif roof.footprint:
            yield from _footprint((*path, "footprint"), roof)
        yield from _edges(path, roof, [name for name, _ in corners])
        yield from _dormers(survey, path, roof)


def _dormers(survey: Survey, path: Path, roof: RoofSpec) -> Iterator[Fault]:
    """Assemblies that there are not or that no dormer is built of; dormers on skylights, and ids that are taken."""
    walls = {wall.id for wall in survey.drawn}
    for n, opening in enumerate(roof.openings):
        dormer, where = opening.dormer, (*path, "openings", n, "dormer")
        if dormer is None:
            continue
        for field in ("walls", "assembly"):
            name = getattr(dormer, field)
            if name not in survey.house.assemblies:
                yield unknown((*where, field), "assembly", name, survey.house.assemblies)
            elif survey.house.assemblies[name].strapping is not None:
                words = f"assembly {name} has straps, and dormers have no service cavity"
                yield Fault((*where, field), words, "name an assembly without a layer of strapping")
        if opening.kind != "dormer":
            words = f"opening {opening.id} is a skylight, on which no dormer stands"
            yield Fault((*path, "openings", n, "kind"), words, "make its kind dormer")
        if opening.front in walls:
            words = f"the front wall of the dormer would be {opening.front}, and another wall has this id"
            yield Fault((*path, "openings", n, "id"), words, "rename one of the two", repr(opening.id))


def bad_trusses(survey: Survey) -> Iterator[Fault]:
    """Levels and bearing walls that there are not."""
    levels = [level.id for level in survey.house.levels]
    walls = dict.fromkeys(wall.id for wall in survey.drawn)
    for n, truss in enumerate(survey.house.trusses):
        if truss.level not in levels:
            yield unknown(("trusses", n, "level"), "level", truss.level, levels)
        for k, wall in enumerate(truss.bearings):
            if wall not in walls:
                yield unknown(("trusses", n, "bearings", k), "wall", wall, walls)


def _footprint(path: Path, roof: RoofSpec) -> Iterator[Fault]:
    if len(roof.footprint) < 2:
        yield Fault(path, "a footprint has at least 4 corners, and this one has 1", "add the missing corners")
        return
    corners = tuple(Corner(wall=corner.edge, at=corner.at) for corner in roof.footprint)
    yield from outline_faults(path, Outline(assembly=roof.assembly, corners=corners))


def _edges(path: Path, roof: RoofSpec, known: list[str]) -> Iterator[Fault]:
    """What is said of edges that the footprint has not; openings where no plane rises."""
    for section in ("edges", "openings", "purlins", "joints", "no_joints"):
        for n, one in enumerate(getattr(roof, section)):
            if one.edge not in known:
                yield unknown((*path, section, n, "edge"), "edge", one.edge, known)
    if known and all(roof.edge(name).kind == "gable" for name in known):
        yield Fault((*path, "edges"), "every edge is a gable, and no plane can rise", "make one of them an eave")
    for section, what in (("openings", "opening"), ("purlins", "purlin"), ("joints", "joint")):
        for n, one in enumerate(getattr(roof, section)):
            if roof.edge(one.edge).kind == "gable":
                words = f"edge {one.edge} is a gable, which has no plane"
                yield Fault((*path, section, n, "edge"), words, f"name the eave below the {what}")
