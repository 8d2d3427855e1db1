"""From an IFC file to a house spec: the steps in order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from panelgen.catalog import Catalog
from panelgen.errors import IntakeError
from panelgen.intake.assemblies import BOARD, fit, stacks
from panelgen.intake.compose import compose
from panelgen.intake.elevations import see, top_over
from panelgen.intake.fittings import fit_openings
from panelgen.intake.lengths import written
from panelgen.intake.lines import WoodWall, join
from panelgen.intake.names import Ids, type_id
from panelgen.intake.openings import read_openings
from panelgen.intake.records import Intake, Left, NotTakenError, Taken
from panelgen.intake.remarks import remarks
from panelgen.intake.sides import face
from panelgen.intake.source import Model, open_model
from panelgen.intake.specwalls import SpecWall
from panelgen.intake.storeys import floors, storeys_of
from panelgen.intake.text import write
from panelgen.intake.voids import find_voids
from panelgen.intake.walls import ModelWall, Solid, read_solid, read_wall, turned

__all__ = ["read_ifc"]

_SHORTEST = 300.0
"""A line shorter than this (mm) leaves no framing once its corners are cut."""

_LONGEST = 100_000.0
_HIGHEST = 12_000.0
"""A house spec takes no wall beyond these, mm."""


def read_ifc(path: str | Path) -> Intake:
    """Read the straight walls of an IFC2x3 or IFC4 file, and their openings, into a house spec.

    Nothing is guessed silently: what a person should confirm is a comment in the text, and what did not
    come through is in `left` and at the end of the text. Raises IntakeError where ifcopenshell is not
    installed, the file cannot be read, or none of its walls can be taken.
    """
    model = open_model(path)
    left: list[Left] = []
    solids = _solids(model, left)
    wood = _drawn(model, _wood(_straight(model, solids, left), solids, left))
    walls = _spec_walls(wood, left)
    if not walls:
        reasons = "; ".join(f"{item.name or item.guid}: {item.reason}" for item in left[:3])
        raise IntakeError(f"{path}: no wall of the model can be taken ({reasons or 'it has none'})")
    openings, unread = read_openings(model)
    voids, lost = find_voids(openings, walls, _refused(model, left))
    fittings, unfit = fit_openings(voids, walls)
    left += [*unread, *lost, *unfit]
    models = [wall.wood.model for wall in walls]
    levels = floors(models, storeys_of(model, models))
    spec, origin = compose(model, levels, walls, fittings)
    taken = tuple(Taken(w.id, w.wood.model.name, w.wood.model.guid, w.notes) for w in walls)
    taken_openings = tuple(Taken(f.opening.id, f.name, f.guid, f.notes) for f in fittings)
    intake = Intake("", taken, taken_openings, tuple(left))
    return replace(intake, spec_text=write(spec, remarks(model, intake, levels, walls, origin)))


def _solids(model: Model, left: list[Left]) -> list[Solid]:
    solids = []
    for element in model.file.by_type("IfcWall"):
        try:
            solids.append(read_solid(model, element))
        except NotTakenError as reason:
            left.append(Left("wall", str(element.Name or ""), element.GlobalId, str(reason)))
    left.extend(
        Left("curtain wall", str(element.Name or ""), element.GlobalId, "a curtain wall is not a wood panel")
        for element in model.file.by_type("IfcCurtainWall")
    )
    return solids


def _straight(model: Model, solids: Iterable[Solid], left: list[Left]) -> list[ModelWall]:
    walls = []
    for solid in solids:
        try:
            walls.append(read_wall(model, solid))
        except NotTakenError as reason:
            left.append(Left("wall", str(solid.element.Name or ""), solid.element.GlobalId, str(reason)))
    return walls


def _wood(walls: Sequence[ModelWall], solids: Sequence[Solid], left: list[Left]) -> list[WoodWall]:
    """Walls with the weather side on the right, each with its assembly."""
    catalog = Catalog.default()
    choices, board = stacks(catalog), catalog.sheet(BOARD).thickness
    wood = []
    for wall, facing in zip(walls, face(walls, solids), strict=True):
        one = turned(wall) if facing.outside_left else wall
        try:
            match = fit(one, facing.exterior, choices, board)
        except NotTakenError as reason:
            left.append(Left("wall", wall.name, wall.guid, str(reason)))
            continue
        notes = tuple(note for note in (facing.note, match.note) if note)
        wood.append(WoodWall(one, match, facing.exterior, 0.0, one.length, notes))
    return wood


def _drawn(model: Model, wood: Sequence[WoodWall]) -> list[WoodWall]:
    """The walls with their ends drawn to each other, level by level, in their order."""
    models = [wall.model for wall in wood]
    drawn = list(wood)
    for level in floors(models, storeys_of(model, models)):
        for n, wall in zip(level.walls, join([wood[n] for n in level.walls]), strict=True):
            drawn[n] = wall
    return drawn


def _spec_walls(wood: Iterable[WoodWall], left: list[Left]) -> list[SpecWall]:
    ids = Ids()
    walls = []
    for wall in wood:
        try:
            walls.append(_spec_wall(wall, ids))
        except NotTakenError as reason:
            left.append(Left("wall", wall.model.name, wall.model.guid, str(reason)))
    return walls


def _spec_wall(wall: WoodWall, ids: Ids) -> SpecWall:
    if wall.length < _SHORTEST:
        raise NotTakenError(f"only {written(wall.length)} mm of framing would be left between its neighbours")
    if wall.length > _LONGEST or wall.model.height > _HIGHEST:
        size = f"{written(wall.length)} mm long and {written(wall.model.height)} mm high"
        raise NotTakenError(f"no house has such a wall, {size}: check the unit of the model")
    elevation = see(wall.model)
    top = top_over(elevation.top, wall.x0, wall.x1)
    if top.eave < 0:  # the slope would run into the ground beyond the body
        wall = replace(wall, x0=0.0, x1=wall.model.length)
        top = top_over(elevation.top, wall.x0, wall.x1)
    notes = (*wall.notes, *([top.note] if top.note else []))
    return SpecWall(ids.unique(type_id(wall.model.name, "wall")), wall, top, elevation.gaps, notes)


def _refused(model: Model, left: Iterable[Left]) -> dict[int, str]:
    """Why a wall was not taken, by its element id."""
    reasons = {item.guid: item.reason for item in left if item.kind == "wall"}
    return {wall.id(): reasons[wall.GlobalId] for wall in model.file.by_type("IfcWall") if wall.GlobalId in reasons}
