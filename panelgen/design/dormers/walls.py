"""The walls of a dormer in plan and in height, settled against each other as the walls of a house are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from panelgen.design.dormers.shape import Dormer
from panelgen.design.roofs.gables import top_under
from panelgen.design.roofs.planes import RoofPlane
from panelgen.design.walls.junctions import Meeting, ResolvedWall, resolve
from panelgen.design.walls.plan import PlanWall
from panelgen.geometry.frames import Point2
from panelgen.model import Barrier, Layer, LayerKind
from panelgen.spec import HouseSpec

__all__ = ["DormerWalls", "walls_of"]

_BEHIND = 600.0
"""How far (mm) cheeks are drawn past the back wall, so that it meets their sides; they end where the roof does."""


@dataclass(frozen=True, slots=True)
class DormerWalls:
    """The walls of a dormer: those of studs on level ground but for the slope under their plates, and the cheeks.

    `level` are the front wall and, if there is one, the back wall. Cheeks are the left and the right one; wall x of
    the left one runs toward the front, that of the right one away from it.
    """

    level: tuple[ResolvedWall, ...]
    cheeks: tuple[ResolvedWall, ResolvedWall]
    meetings: tuple[Meeting, ...]

    @property
    def all(self) -> tuple[ResolvedWall, ...]:
        """Every wall: front, back, left cheek, right cheek."""
        return (*self.level, *self.cheeks)


def walls_of(spec: HouseSpec, dormer: Dormer, planes: tuple[RoofPlane, ...]) -> DormerWalls:
    """The walls around the opening of a dormer: the front runs through, the back one stands between the cheeks."""
    floor, inward = dormer.elevation, dormer.inward
    left, right, front = dormer.left, dormer.right, dormer.front
    behind = dormer.back + dormer.depth
    far = max(behind + _BEHIND, dormer.front + dormer.spec.height / (dormer.steepness - _own(dormer)))
    height = dormer.spec.height
    level_top = ((0.0, height), (right - left, height))
    front_line = dormer.place(left, front), dormer.place(right, front)
    front_top = level_top if dormer.spec.form == "shed" else top_under(planes, front_line, inward, floor)
    cheek_top = _cheek_top(dormer, planes, far)
    drawn = [
        _wall(spec, dormer, "front", (left, front), (right, front), front_top, 2.0),
        _wall(
            spec,
            dormer,
            "left",
            (left, far),
            (left, front),
            tuple((far - front - x, y) for x, y in cheek_top[::-1]),
            1.0,
        ),
        _wall(spec, dormer, "right", (right, front), (right, far), cheek_top, 1.0),
    ]
    if dormer.sealed:
        top = _back_top(dormer, planes, behind)
        back = _wall(spec, dormer, "back", (right, behind), (left, behind), top, 0.0, dormer.back)
        drawn.append(replace(back, layers=tuple(_inside(layer) for layer in back.layers)))
    settled, met, _ = resolve(drawn)
    by_id = {one.wall.id: one for one in settled}
    if dormer.sealed:
        for side, end in (("left", 0), ("right", 1)):
            _end_inside(by_id[f"{dormer.id}-{side}"], end, far - behind)
    # The airtight line turns at the back wall as it does at the front.
    meetings = tuple(replace(meeting, kind="corner") for meeting in met)
    level = tuple(by_id[f"{dormer.id}-{name}"] for name in ("front", "back") if f"{dormer.id}-{name}" in by_id)
    return DormerWalls(level, (by_id[f"{dormer.id}-left"], by_id[f"{dormer.id}-right"]), meetings)


def _back_top(dormer: Dormer, planes: tuple[RoofPlane, ...], behind: float) -> tuple[Point2, ...]:
    """The top of the back wall: level where the rafters of a shed are seated, else under those of a gable."""
    floor = dormer.surface(dormer.back)
    if dormer.spec.form == "gable":
        line = dormer.place(dormer.right, behind), dormer.place(dormer.left, behind)
        return top_under(planes, line, dormer.inward, floor)
    ((_, height),) = planes[0].seats
    top = planes[0].frame.origin[2] + height - floor
    return ((0.0, top), (dormer.right - dormer.left, top))


def _end_inside(cheek: ResolvedWall, end: int, beyond: float) -> None:
    """Let the inner sheathing of a cheek end with the back wall, `beyond` (mm) before the drawn end."""
    start, stop = cheek.inner
    cheek.inner = (start, cheek.wall.length - beyond) if end else (beyond, stop)


def _own(dormer: Dormer) -> float:
    """The slope of a cheek's top."""
    return dormer.slope if dormer.spec.form == "shed" else 0.0


def _cheek_top(dormer: Dormer, planes: Sequence[RoofPlane], far: float) -> tuple[Point2, ...]:
    """The top of the right cheek over the front's sheathing: level under a gable's plates, else under the rafters."""
    height, length = dormer.spec.height, far - dormer.front
    if dormer.spec.form == "gable":
        return ((0.0, height), (length, height))
    start = planes[0].frame.origin[2] - dormer.elevation
    return ((0.0, start), (length, start + dormer.slope * length))


def _wall(
    spec: HouseSpec,
    dormer: Dormer,
    name: str,
    start: Point2,
    end: Point2,
    top: tuple[Point2, ...],
    rank: float,
    base: float | None = None,
) -> PlanWall:
    """A wall between two places, its bottom at the sheathing below the outer face of the front, or at run `base`."""
    (xa, ya), (xb, yb) = dormer.place(*start), dormer.place(*end)
    length = ((xb - xa) ** 2 + (yb - ya) ** 2) ** 0.5
    elevation = dormer.elevation if base is None else dormer.surface(base)
    return PlanWall(
        f"{dormer.id}-{name}",
        dormer.plane.level.model_copy(update={"elevation": elevation}),
        spec.assemblies[dormer.spec.walls],
        dormer.layers,
        (xa, ya),
        ((xb - xa) / length, (yb - ya) / length),
        length,
        top,
        exterior=True,
        bearing=True,
        rank=(rank,),
    )


def _inside(layer: Layer) -> Layer:
    """A layer of the back wall: the weather barrier goes over it, on the roof of the dormer."""
    weather = layer.kind is LayerKind.SHEATHING and layer.barrier is Barrier.WEATHER
    return replace(layer, barrier=Barrier.NONE) if weather else layer
