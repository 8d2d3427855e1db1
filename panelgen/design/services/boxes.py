"""Boxes and sleeves of the spec, placed in the panel they fall in."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from panelgen.catalog import Catalog
from panelgen.design.brief import PanelBrief
from panelgen.geometry.frames import Frame, Point2, Vec3
from panelgen.model import Box, Finding, Layer, LayerKind, Panel, RunPart, Severity, Sleeve, Why
from panelgen.spec import HouseSpec
from panelgen.spec.services import BoxSpec, SleeveSpec

__all__ = ["Place", "boxes_in", "lost_sleeves", "sleeves_in", "within_deck", "within_wall"]

_FLAT = 1e-9


@dataclass(frozen=True, slots=True)
class Place:
    """A panel that services are put in: `find` gives panel (x, y) for a place on its wall, None where it is another's.

    Its wall is whatever it is a part of: a wall, floor, ceiling or plane of a roof.
    """

    layers: Sequence[Layer]
    catalog: Catalog
    find: Callable[[Point2], Point2 | None]


def within_wall(brief: PanelBrief) -> Place:
    """The place of a wall panel, its laps at the wall's ends included."""

    def find(at: Point2) -> Point2 | None:
        x = at[0] - brief.wall_start
        low = 0.0 if brief.joined[0] else float("-inf")
        high = brief.length if brief.joined[1] else float("inf")
        return (x, at[1]) if low <= x < high else None

    return Place(brief.layers, brief.catalog, find)


def within_deck(brief: PanelBrief) -> Place:
    """The place of a cassette."""

    def find(at: Point2) -> Point2 | None:
        x, y = at[0] - brief.wall_start, at[1] - brief.wall_base
        return (x, y) if 0.0 <= x < brief.length and 0.0 <= y < brief.height else None

    return Place(brief.layers, brief.catalog, find)


def boxes_in(place: Place, wanted: Sequence[BoxSpec]) -> tuple[Box, ...]:
    """Those boxes that are centred in a panel, fronts flush with the inside of straps or framing."""
    front = min((layer.z0 for layer in place.layers if layer.kind is not LayerKind.SHEATHING), default=0.0)
    boxes = []
    for box in wanted:
        at = place.find(box.at)
        if at is None:
            continue
        x, y = at
        product = place.catalog.box(box.product)
        # Local x along the panel, y down, z toward the room: right-handed with z = -panel z.
        frame = Frame(
            (x - product.width / 2, y + product.height / 2, front + product.depth), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0)
        )
        size = (product.width, product.height, product.depth)
        boxes.append(
            Box(
                box.id,
                product.name,
                size,
                frame,
                Why("box.spec", product.name, f"spec boxes {box.id}"),
                product.kind,
                product.volume,
                _fill(place.catalog, box),
                box.back,
            )
        )
    return tuple(boxes)


def sleeves_in(place: Place, wanted: Sequence[SleeveSpec], runs: Sequence[RunPart]) -> tuple[Sleeve, ...]:
    """Those sleeves that are in a panel with these runs; one without a place is where its run goes through sheets."""
    sleeves = []
    for sleeve in wanted:
        lean = (0.0, 0.0)
        if sleeve.at is not None:
            at = place.find(sleeve.at)
        else:
            at, lean = next(_ways_through(place, sleeve.run, runs), (None, lean))
        if at is not None:
            product = place.catalog.sleeve(sleeve.product)
            why = Why("sleeve.spec", f"sealed way for run {sleeve.run}", f"spec sleeves {sleeve.id}")
            sleeves.append(Sleeve(sleeve.id, sleeve.run, product.name, sleeve.seal, *at, product.outside, why, lean))
    return tuple(sleeves)


def lost_sleeves(spec: HouseSpec, panels: Sequence[Panel]) -> Iterator[Finding]:
    """A finding for each sleeve that is in no panel: there is none at its place, or its run goes through no sheet."""
    placed = {sleeve.id for panel in panels for sleeve in panel.sleeves}
    for sleeve in spec.sleeves:
        if sleeve.id not in placed:
            yield Finding(
                "sleeve.lost",
                Severity.STOP,
                f"sleeve {sleeve.id} is in no panel of {sleeve.wall}: run {sleeve.run} does not go through its sheets, "
                "or the place given is beside it",
                parts=(sleeve.id,),
                source="spec sleeves",
            )


def _ways_through(place: Place, name: str, runs: Sequence[RunPart]) -> Iterator[tuple[Point2, Point2]]:
    """Where stretches of a run that go through sheets of a panel pass z = 0, and how they lean, as in `Sleeve`."""
    sheets = [(layer.z0 + layer.z1) / 2 for layer in place.layers if layer.kind is LayerKind.SHEATHING]
    for run in runs:
        for a, b in pairwise(run.path if run.run == name else ()):
            low, high = sorted((a[2], b[2]))
            if high - low > _FLAT and any(low < z < high for z in sheets):
                yield _at_zero(a, b)


def _at_zero(a: Vec3, b: Vec3) -> tuple[Point2, Point2]:
    lean = (b[0] - a[0]) / (b[2] - a[2]), (b[1] - a[1]) / (b[2] - a[2])
    return (a[0] - lean[0] * a[2], a[1] - lean[1] * a[2]), lean


def _fill(catalog: Catalog, box: BoxSpec) -> float:
    """What is in a box takes this much of it, mm3; 0 where the spec does not say what is in it."""
    if box.fill is None:
        return 0.0
    conductors: dict[int, int] = {}
    for wire in box.fill.wires:
        conductors[wire.gauge] = conductors.get(wire.gauge, 0) + wire.count
    return catalog.mixed_box_fill(conductors, box.fill.devices, box.fill.clamps, box.fill.grounds)
