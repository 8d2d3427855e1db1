"""Boxes and sleeves of the spec, placed in the panel they fall in."""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.catalog import Catalog
from panelgen.design.brief import PanelBrief
from panelgen.geometry.frames import Frame
from panelgen.model import Box, LayerKind, Sleeve, Why
from panelgen.spec.services import BoxSpec, SleeveSpec

__all__ = ["boxes_in", "sleeves_in"]


def boxes_in(brief: PanelBrief, wanted: Sequence[BoxSpec]) -> tuple[Box, ...]:
    """Those of a wall's boxes that are centred in this panel, fronts flush with the inside of straps or framing."""
    front = min(layer.z0 for layer in brief.layers if layer.kind is not LayerKind.SHEATHING)
    boxes = []
    for box in wanted:
        x, y = box.at[0] - brief.wall_start, box.at[1]
        if not _owns(brief, x):
            continue
        product = brief.catalog.box(box.product)
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
                _fill(brief.catalog, box),
                box.back,
            )
        )
    return tuple(boxes)


def sleeves_in(brief: PanelBrief, wanted: Sequence[SleeveSpec]) -> tuple[Sleeve, ...]:
    """Those of a wall's sleeves that are in this panel."""
    sleeves = []
    for sleeve in wanted:
        x, y = sleeve.at[0] - brief.wall_start, sleeve.at[1] - brief.wall_base
        if not _owns(brief, x):
            continue
        product = brief.catalog.sleeve(sleeve.product)
        why = Why("sleeve.spec", f"sealed way for run {sleeve.run}", f"spec sleeves {sleeve.id}")
        sleeves.append(Sleeve(sleeve.id, sleeve.run, product.name, sleeve.seal, x, y, product.outside, why))
    return tuple(sleeves)


def _fill(catalog: Catalog, box: BoxSpec) -> float:
    """What is in a box takes this much of it, mm3; 0 where the spec does not say what is in it."""
    if box.fill is None:
        return 0.0
    conductors: dict[int, int] = {}
    for wire in box.fill.wires:
        conductors[wire.gauge] = conductors.get(wire.gauge, 0) + wire.count
    return catalog.mixed_box_fill(conductors, box.fill.devices, box.fill.clamps, box.fill.grounds)


def _owns(brief: PanelBrief, x: float) -> bool:
    """True where panel x is this panel's, its laps at the wall's ends included."""
    low = 0.0 if brief.joined[0] else float("-inf")
    high = brief.length if brief.joined[1] else float("inf")
    return low <= x < high
