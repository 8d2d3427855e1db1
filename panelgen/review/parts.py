"""What a finding may be about: every part of a house by its id, with the words a shop calls it by."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from panelgen.model import House, Panel

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


def name_parts(house: House) -> Mapping[str, PartName]:
    """Every part that a finding can name, by id. Where two kinds share an id, the one blamed first has it."""
    names: dict[str, PartName] = {}
    for run in house.runs:
        names[run.id] = PartName(PartKind.RUN, run.id, f"run {run.id}")
    found = [name for panel in house.panels for name in _parts(panel)]
    walls = [PartName(PartKind.WALL, wall.id, f"wall {wall.id}") for wall in house.walls]
    rank = {kind: place for place, kind in enumerate(PartKind)}
    for name in sorted((*found, *walls), key=lambda name: rank[name.kind]):
        names.setdefault(name.id, name)
    return names


def _parts(panel: Panel) -> Iterator[PartName]:
    for run in panel.runs:
        yield PartName(PartKind.RUN, run.run, f"run {run.run}")
    for box in panel.boxes:
        yield PartName(PartKind.BOX, box.id, f"box {box.id}")
    for opening in panel.openings:
        yield PartName(PartKind.OPENING, opening.id, f"{opening.kind} {opening.id}")
    for sleeve in panel.sleeves:
        yield PartName(PartKind.SLEEVE, sleeve.id, f"sleeve {sleeve.id}")
    for nails in panel.fasteners:
        yield PartName(PartKind.FASTENERS, nails.id, f"{nails.product} in panel {panel.label}")
    for member in panel.members:
        yield PartName(PartKind.MEMBER, member.id, f"{member.role} {member.mark or member.id}")
    for sheet in panel.sheets:
        yield PartName(PartKind.SHEET, sheet.id, f"sheet {sheet.mark or sheet.id}")
