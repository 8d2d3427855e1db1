"""The comments of the written spec: where it comes from, what to review, what was left and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from panelgen.geometry.frames import Point2
from panelgen.intake.lengths import written
from panelgen.intake.records import Intake, Left, Taken
from panelgen.intake.source import Model
from panelgen.intake.specwalls import SpecWall, bearing_is_doubted
from panelgen.intake.storeys import Floor
from panelgen.spec import Shop

__all__ = ["Place", "Remarks", "remarks"]

Place = tuple[str, str]
"""A section of the spec and the key or id in it, such as ``("walls", "Exterior.138062")``."""

_REVIEW = (
    "Review before you rely on it:",
    "  - design and shop: every line marked PLACEHOLDER",
    "  - assemblies: which wood assembly stands for which wall of the model",
    "  - every remark that ends in 'confirm'",
    "Exterior walls keep the model's weather face as the face of their outer sheathing; interior walls keep",
    "the middle of the model's wall, or of its stud layer. Ends are drawn to the middle of the framing they",
    "meet. Units keep their size in the model; where the model draws no rough opening, the usual clearance",
    "is added around them.",
)


@dataclass(frozen=True, slots=True)
class Remarks:
    """Comment lines: before everything, beside a place, and after everything."""

    head: tuple[str, ...]
    at: Mapping[Place, tuple[str, ...]]
    tail: tuple[str, ...]


def remarks(
    model: Model, intake: Intake, levels: Sequence[Floor], walls: Sequence[SpecWall], origin: Point2
) -> Remarks:
    """Everything a person should know beside the data; `origin` is the model's plan point that the spec starts from."""
    at: dict[Place, tuple[str, ...]] = {
        ("design", "ground_snow"): ("PLACEHOLDER: the ground snow load of the site; confirm",),
        ("design", "building_width"): ("PLACEHOLDER: the shorter side of the exterior walls in plan; confirm",),
        ("shop", "line_length"): ("PLACEHOLDER: the longest panel of your line; confirm",),
        ("shop", "line_height"): (f"PLACEHOLDER: the highest panel of your line{_too_high(walls)}; confirm",),
    }
    at |= {("assemblies", name): lines for name, lines in _mapping(walls).items()}
    at |= {("levels", floor.id): _level(floor, [walls[n] for n in floor.walls]) for floor in levels}
    at |= {("walls", item.id): (_source(item), *item.notes) for item in intake.taken_walls}
    at |= {("openings", item.id): (_source(item), *item.notes) for item in intake.taken_openings}
    return Remarks(_head(model, intake, origin), at, _tail(intake.left))


def _head(model: Model, intake: Intake, origin: Point2) -> tuple[str, ...]:
    counts = intake.counts
    taken = f"{counts.walls_taken} of {_plural(counts.walls, 'wall')}"
    taken += f" and {counts.openings_taken} of {_plural(counts.openings, 'opening')}"
    lines = [
        f"House spec made by 'panelgen import' from {model.path.name} ({model.schema}).",
        f"Taken: {taken}; what was not is listed at the end with the reason.",
        *_REVIEW,
    ]
    if origin != (0.0, 0.0):
        lines.append(f"The plan is moved: its origin is the model's ({written(origin[0])}, {written(origin[1])}) mm.")
    return tuple(lines)


def _too_high(walls: Sequence[SpecWall]) -> str:
    count = sum(1 for wall in walls if wall.top.height > Shop().line_height)
    return f"; {_plural(count, 'wall')} higher" if count else ""


def _mapping(walls: Sequence[SpecWall]) -> dict[str, tuple[str, ...]]:
    """For each assembly, the walls of the model that it stands for, a line for each thickness and material."""
    uses: dict[str, Counter[str]] = {}
    for wall in walls:
        model = wall.wood.model
        material = f"; material in the model: {model.makeup.words}" if model.makeup.words else ""
        confirm = "; confirm" if model.makeup.is_masonry else ""
        words = f"{written(model.thickness)} mm thick in the model{material}{confirm}"
        uses.setdefault(wall.wood.fit.stack.name, Counter())[words] += 1
    return {
        name: tuple(f"for {_plural(count, 'wall')} {words}" for words, count in counter.items())
        for name, counter in uses.items()
    }


def _level(floor: Floor, walls: Sequence[SpecWall]) -> tuple[str, ...]:
    name = f"storey '{floor.storey.name}' of the model"
    above = _distance(floor.above)
    lines = [f"{name}: walls that stand {above} its elevation" if above else name]
    if bearing_is_doubted(walls):
        lines.append("LoadBearing is FALSE on every exterior wall here: not believed, exterior walls bear; confirm")
    return tuple(lines)


def _distance(above: float) -> str:
    """How far above or below something lies, in words; empty where it does not."""
    size = written(abs(above))
    if size == "0":
        return ""
    return f"{size} mm {'above' if above > 0 else 'below'}"


def _plural(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def _source(item: Taken) -> str:
    return f"{item.name or 'without a name'} [{item.guid}]"


def _tail(left: Sequence[Left]) -> tuple[str, ...]:
    if not left:
        return ("Everything in the model that is a wall or an opening came through.",)
    return (
        "Not taken:",
        *(f"  {item.kind} {item.name or 'without a name'} [{item.guid}]: {item.reason}" for item in left),
    )
