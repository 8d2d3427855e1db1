"""Openings, windows and doors as the model has them: what they are called, how large, and where."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from panelgen.geometry.frames import Floats
from panelgen.intake.bodies import read_body
from panelgen.intake.records import Left, NotTakenError
from panelgen.intake.source import Model, foreign_data

__all__ = ["ModelOpening", "read_openings"]

_KINDS = {"IfcWindow": "window", "IfcDoor": "door"}


@dataclass(frozen=True, slots=True, eq=False)
class ModelOpening:
    """An opening, or a window or door that fills none.

    `kind` is ``window``, ``door`` or ``opening``; `unit` the (width, height) of the window or door, mm, 0
    where the model gives none; `host` the element id of the wall named for it, None where none is named;
    `points` the (n, 3) corners of its shape, house coordinates, mm; `is_void` False for a unit on its own.
    """

    kind: str
    name: str
    guid: str
    unit: tuple[float, float]
    host: int | None
    points: Floats
    is_void: bool


def read_openings(model: Model) -> tuple[list[ModelOpening], list[Left]]:
    """Openings of walls in file order, then windows and doors that fill no opening.

    Openings of other elements count only where a window or door fills them, and are left with the reason.
    """
    openings: list[ModelOpening] = []
    left: list[Left] = []
    for relation in model.file.by_type("IfcRelVoidsElement"):
        named = relation
        try:
            with foreign_data():
                host, void = relation.RelatingBuildingElement, relation.RelatedOpeningElement
                named = _unit_in(void) or void
                if host is None or host.is_a("IfcWall") or _kind(named) != "opening":
                    openings.append(_opening(model, named, void, host))
        except NotTakenError as reason:
            left.append(_left(named, reason))
    for unit in _loose_units(model):
        try:
            with foreign_data():
                openings.append(_opening(model, unit, unit, None))
        except NotTakenError as reason:
            left.append(_left(unit, reason))
    return openings, left


def _unit_in(void: Any) -> Any:
    """The window or door that fills an opening; None for one left bare or filled with something else."""
    fillings = (relation.RelatedBuildingElement for relation in void.HasFillings)
    return next((filling for filling in fillings if _kind(filling) != "opening"), None)


def _loose_units(model: Model) -> Iterator[Any]:
    for unit in (*model.file.by_type("IfcWindow"), *model.file.by_type("IfcDoor")):
        if not unit.FillsVoids:
            yield unit


def _opening(model: Model, named: Any, shape: Any, host: Any) -> ModelOpening:
    if host is not None and not host.is_a("IfcWall"):
        raise NotTakenError(f"it is in a {host.is_a().removeprefix('Ifc').lower()}, not in a wall")
    kind = _kind(named)
    sizes = (0.0, 0.0) if kind == "opening" else (named.OverallWidth or 0.0, named.OverallHeight or 0.0)
    return ModelOpening(
        kind,
        str(named.Name or ""),
        str(named.GlobalId),
        (sizes[0] * model.scale, sizes[1] * model.scale),
        None if host is None else host.id(),
        read_body(model, shape).points,
        shape is not named or kind == "opening",
    )


def _kind(element: Any) -> str:
    return next((kind for entity, kind in _KINDS.items() if element.is_a(entity)), "opening")


def _left(element: Any, reason: NotTakenError) -> Left:
    return Left(_kind(element), str(element.Name or ""), str(element.GlobalId), str(reason))
