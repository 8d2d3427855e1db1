"""What a finding may be about: every part of a house by its id, with the words a shop calls it by."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from itertools import chain

from panelgen.model import House, Panel, PanelKind

__all__ = ["PartKind", "PartName", "name_parts"]


class PartKind(StrEnum):
    """Kinds of parts, in the order in which they are blamed: what a person drew first, what follows from it last."""

    RUN = "run"
    BOX = "box"
    OPENING = "opening"
    SLEEVE = "sleeve"
    FASTENERS = "fasteners"
    MEMBER = "member"
    SHEET = "sheet"
    WALL = "wall"
    PANEL = "panel"
    HOUSE = "house"


@dataclass(frozen=True, slots=True)
class PartName:
    """A part by its id, and what it is called: ``run DR1``, ``stud 1W07-23``."""

    kind: PartKind
    id: str
    words: str


def name_parts(thing: House | Panel, among: Container[str] | None = None) -> Mapping[str, PartName]:
    """Every part of a house or a panel that a finding can name, by id; of `among` alone, where those ids are given.

    Where two kinds share an id, the one blamed first has it.
    """
    named = [_of_house(thing), *map(_parts, thing.panels)] if isinstance(thing, House) else [_parts(thing)]
    found = [
        PartName(kind, part, f"{what} {name}")
        for kind, part, what, name in chain.from_iterable(named)
        if among is None or part in among
    ]
    rank = {kind: place for place, kind in enumerate(PartKind)}
    names: dict[str, PartName] = {}
    for name in sorted(found, key=lambda name: rank[name.kind]):
        names.setdefault(name.id, name)
    return names


_Named = Iterator[tuple[PartKind, str, str, str]]
"""Kind, id, what it is and its name, in words only where they are asked for: a house has ten thousand parts."""


def _of_house(house: House) -> _Named:
    for run in house.runs:
        yield PartKind.RUN, run.id, "run", run.id
    for wall in house.walls:
        yield PartKind.WALL, wall.id, "wall", wall.id
    for panel in house.panels:
        if panel.kind in (PanelKind.FLOOR, PanelKind.CEILING, PanelKind.ROOF):
            yield PartKind.WALL, panel.wall, panel.kind, panel.wall


def _parts(panel: Panel) -> _Named:
    here = f"in panel {panel.label}"
    for run in panel.runs:
        yield PartKind.RUN, run.run, "run", run.run
    for box in panel.boxes:
        yield PartKind.BOX, box.id, "box", box.id
    for opening in panel.openings:
        yield PartKind.OPENING, opening.id, opening.kind, opening.id
    for sleeve in panel.sleeves:
        yield PartKind.SLEEVE, sleeve.id, "sleeve", sleeve.id
    for nails in panel.fasteners:
        yield PartKind.FASTENERS, nails.id, nails.product, here
    for member in panel.members:
        yield PartKind.MEMBER, member.id, member.role, member.mark or member.id
    for sheet in panel.sheets:
        yield PartKind.SHEET, sheet.id, "sheet", sheet.mark or sheet.id
