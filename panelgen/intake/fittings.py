"""Openings of the spec: the unit, its clearances and its place on the line of the framing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from panelgen.intake.lengths import tenth, written
from panelgen.intake.names import Ids, family_id
from panelgen.intake.records import Left, NotTakenError
from panelgen.intake.specwalls import SpecWall
from panelgen.intake.voids import Void
from panelgen.spec import Clearance, OpeningSpec, UnitType

__all__ = ["Fitting", "fit_openings"]

_TRIM = 60.0
_LOOSE = 150.0
"""A unit may be this much larger (its trim) or smaller (its shims) than its opening in the model, mm."""

_DRAWN = 1.0
"""An opening drawn larger than its unit by more than this (mm) is drawn as a rough opening."""

_ROUNDING = 0.2
"""A rough opening keeps this much (mm) from the ends and top of its wall, since lengths are rounded to 0.1 mm."""

_FLOOR = 100.0
"""A door or bare opening that begins lower than this above the wall's foot (mm) stands on the floor."""


@dataclass(frozen=True, slots=True)
class Fitting:
    """One opening of the spec with its unit; `guid` and `notes` are for the person who reviews it."""

    opening: OpeningSpec
    unit: UnitType
    name: str
    guid: str
    notes: tuple[str, ...]

    @property
    def rough(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the rough opening in wall coordinates, mm."""
        return self.opening.rough_opening(self.unit)


def fit_openings(voids: Sequence[Void], walls: Sequence[SpecWall]) -> tuple[list[Fitting], list[Left]]:
    """Fit every void to its wall; one whose rough opening leaves the wall or meets another is left, with the reason."""
    fittings: list[Fitting] = []
    left: list[Left] = []
    unique = Ids()
    types = _Types()
    for void in voids:
        wall = walls[void.wall]
        try:
            fitting = _fitted(void, wall, unique, types)
            _refuse_outside(fitting, wall)
            _refuse_overlap(fitting, [other for other in fittings if other.opening.wall == wall.id])
        except NotTakenError as reason:
            left.append(Left(void.kind, void.name, void.guid, str(reason)))
        else:
            fittings.append(fitting)
    return fittings, left


class _Types:
    """Names unit types by kind and size: one name for one unit."""

    def __init__(self) -> None:
        self._names: dict[UnitType, str] = {}
        self._unique = Ids()

    def name(self, unit: UnitType) -> str:
        """The name of `unit`, the same on every call."""
        if unit not in self._names:
            wish = f"{unit.kind} {written(unit.width)} x {written(unit.height)}"
            self._names[unit] = self._unique.unique(wish)
        return self._names[unit]


def _fitted(void: Void, wall: SpecWall, unique: Ids, types: _Types) -> Fitting:
    unit, bottom, note = _window(void) if void.kind == "window" else _to_floor(void)
    center = tenth((void.place.x0 + void.place.x1) / 2 - wall.wood.x0)
    if center <= 0:
        raise NotTakenError("it lies beyond the end of the wall's framing")
    opening = OpeningSpec(
        id=unique.unique(family_id(void.name, void.kind)),
        wall=wall.id,
        type=types.name(unit),
        center=center,
        sill=max(0.0, tenth(bottom)) if bottom > 0 or void.kind == "window" else None,
    )
    notes = (*void.notes, *([note] if note else []))
    return Fitting(opening, unit, void.name, void.guid, notes)


def _window(void: Void) -> tuple[UnitType, float, str]:
    """The unit, the bottom of its rough opening, and what to confirm."""
    width, height, note = _unit_size(void)
    side, ends = _spare(void.place.x1 - void.place.x0, width), _spare(void.place.y1 - void.place.y0, height)
    usual = Clearance()
    clearance = Clearance(
        side=usual.side if side is None else side / 2,
        head=usual.head if ends is None else ends / 2,
        sill=usual.sill if ends is None else ends / 2,
    )
    bottom = void.place.y0 - usual.sill if ends is None else void.place.y0
    return _unit("window", width, height, clearance), bottom, note


def _to_floor(void: Void) -> tuple[UnitType, float, str]:
    """A door or bare opening: its rough opening begins at the floor, or where the model has it higher up."""
    width, height, note = _unit_size(void)
    bottom = void.place.y0 if void.place.y0 >= _FLOOR else 0.0
    if void.kind == "opening":
        return _unit("opening", width, void.place.y1 - bottom, Clearance(side=0, head=0, sill=0)), bottom, note
    side, head = _spare(void.place.x1 - void.place.x0, width), _spare(void.place.y1 - void.place.y0, height)
    usual = Clearance()
    lift = void.place.y0 - bottom
    clearance = Clearance(
        side=usual.side if side is None else side / 2,
        head=max(0.0, tenth(lift + (usual.head if head is None else head))),
        sill=0,
    )
    return _unit("door", width, height, clearance), bottom, note


def _unit(kind: str, width: float, height: float, clearance: Clearance) -> UnitType:
    rounded = {side: tenth(value) for side, value in clearance.model_dump().items()}
    return UnitType.model_validate({"kind": kind, "width": tenth(width), "height": tenth(height), "clearance": rounded})


def _spare(opening: float, unit: float) -> float | None:
    """How much larger the opening is drawn than its unit, mm; None where it is drawn as the unit itself."""
    return opening - unit if opening - unit > _DRAWN else None


def _unit_size(void: Void) -> tuple[float, float, str]:
    """Width and height of the unit: the model's, where it fits the opening that the model draws."""
    drawn = (void.place.x1 - void.place.x0, void.place.y1 - void.place.y0)
    if void.kind == "opening":
        return (*drawn, "")
    stated = void.unit
    if all(-_TRIM <= opening - unit <= _LOOSE for opening, unit in zip(drawn, stated, strict=True)):
        return (*stated, "")
    sizes = [f"{written(width)} × {written(height)} mm" for width, height in (stated, drawn)]
    told = f"the model gives {sizes[0]} for the unit and {sizes[1]} for its opening" if all(stated) else "no unit size"
    return (*drawn, f"{told}: the size of the opening is used; confirm")


def _refuse_outside(fitting: Fitting, wall: SpecWall) -> None:
    x0, _, x1, y1 = fitting.rough
    for over, where in ((-x0, "start"), (x1 - wall.wood.length, "end")):
        if over > -_ROUNDING:
            raise NotTakenError(f"its rough opening goes {written(over)} mm beyond the {where} of the wall's framing")
    over = y1 - min(wall.top.at(x0), wall.top.at(x1))
    if over > -_ROUNDING:
        raise NotTakenError(f"its rough opening reaches {written(over)} mm above the top of the wall")


def _refuse_overlap(fitting: Fitting, others: Sequence[Fitting]) -> None:
    x0, y0, x1, y1 = fitting.rough
    for other in others:
        a0, b0, a1, b1 = other.rough
        if min(x1, a1) > max(x0, a0) and min(y1, b1) > max(y0, b0):
            raise NotTakenError(f"its rough opening overlaps that of {other.opening.id}")
