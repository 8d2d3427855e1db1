"""Nails of roof panels by schedule: sheathing to every stick behind it, and sticks through one another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from panelgen.catalog import Fastener
from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.joint_nails import joint_nails
from panelgen.design.roofs.sheet_lines import Rows, sheet_rows
from panelgen.design.roofs.sticks import Sticks
from panelgen.geometry.frames import Floats, Vec3
from panelgen.model import Fasteners, Layer, LayerKind, Member, Sheet, Why

__all__ = ["roof_nails"]


def roof_nails(
    brief: RoofBrief, sticks: Sticks, members: Sequence[Member], sheets: Sequence[Sheet]
) -> tuple[Fasteners, ...]:
    """The nails of a panel, their indices those of `members` and `sheets`: joints of the sticks first.

    There is a batch for each kind and direction.
    """
    made: list[Fasteners] = []
    for joint, rows in joint_nails(brief, sticks.joints, members).items():
        row = brief.rules.joint(joint)
        words = (
            f"{row.count} {row.fastener} to a joint"
            if not row.spacing
            else f"{row.fastener} every {row.spacing:.0f} mm"
        )
        why = Why(f"nail.{joint.replace(' ', '-')}", f"{row.fastener}, {words}", row.cited)
        made += _batches(brief, joint, brief.catalog.fastener(row.fastener), rows, False, why)
    for layer in brief.layers:
        if layer.kind is LayerKind.SHEATHING:
            made += _sheathing(brief, layer, members, sheets)
    return tuple(made)


def _sheathing(
    brief: RoofBrief, layer: Layer, members: Sequence[Member], sheets: Sequence[Sheet]
) -> Iterator[Fasteners]:
    """The nails of one layer; outer sheets are nailed as a roof, inner ones as any sheet of their kind."""
    kind = "roof" if layer.z0 > 0.0 else brief.catalog.sheet(layer.product).kind
    row = brief.rules.sheet_nailing(layer.thickness, kind)
    nail = brief.catalog.fastener(row.fastener)
    for part, spacing, rows in sheet_rows(layer, row, members, sheets):
        name = f"{layer.name} {part}"
        why = Why(f"nail.{name.replace(' ', '-')}", f"{nail.name} every {spacing:.0f} mm or less", row.cited)
        yield from _batches(brief, name, nail, rows, True, why)


def _batches(brief: RoofBrief, name: str, nail: Fastener, rows: Rows, of_sheets: bool, why: Why) -> Iterator[Fasteners]:
    """Nails of one kind in batches of one direction each."""
    if not len(rows.heads):
        return
    drives = np.round(rows.drives, 9) + 0.0
    kinds, which = np.unique(drives, axis=0, return_inverse=True)
    for number, drive in enumerate(kinds.tolist()):
        own = np.flatnonzero(which.reshape(-1) == number)
        yield Fasteners(
            id=f"{brief.label}/{name}-{number + 1}",
            product=nail.name,
            length=nail.length,
            shank=nail.shank,
            points=rows.heads[own],
            direction=_unit(drive),
            fastened=rows.fastened[own],
            into=rows.into[own],
            fastens_sheets=of_sheets,
            why=why,
        )


def _unit(drive: Sequence[float]) -> Vec3:
    vector: Floats = np.array(drive)
    x, y, z = (vector / np.linalg.norm(vector)).tolist()
    return (x, y, z)
