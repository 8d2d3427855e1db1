"""Nails by schedule where sticks slope: sheathing to every stick behind it, and sticks through one another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.catalog import Catalog, Fastener, RuleSet
from panelgen.design.roofs.joint_nails import joint_nails
from panelgen.design.roofs.sheet_lines import Rows, sheet_rows
from panelgen.design.roofs.sticks import Sticks
from panelgen.geometry.frames import Floats, Vec3
from panelgen.model import Fasteners, Layer, LayerKind, Member, Sheet, Why

__all__ = ["Job", "sloping_nails"]


@dataclass(frozen=True, slots=True)
class Job:
    """The panel that is nailed, and by what. `is_roof` says whether its outer sheathing is nailed as that of a roof."""

    label: str
    layers: tuple[Layer, ...]
    rules: RuleSet
    catalog: Catalog
    is_roof: bool = False


def sloping_nails(
    job: Job,
    sticks: Sticks,
    members: Sequence[Member],
    sheets: Sequence[Sheet],
    more: Mapping[str, Rows] | None = None,
) -> tuple[Fasteners, ...]:
    """The nails of a panel, their indices those of `members` and `sheets`: joints of the sticks first.

    There is a batch for each kind and direction. `more` are the nails of other joints of the schedule.
    """
    made: list[Fasteners] = []
    joints = joint_nails(job.rules, job.catalog, sticks.joints, members)
    for joint, rows in {**joints, **(more or {})}.items():
        row = job.rules.joint(joint)
        words = (
            f"{row.count} {row.fastener} to a joint"
            if not row.spacing
            else f"{row.fastener} every {row.spacing:.0f} mm"
        )
        why = Why(f"nail.{joint.replace(' ', '-')}", f"{row.fastener}, {words}", row.cited)
        made += _batches(job, joint, job.catalog.fastener(row.fastener), rows, False, why)
    for layer in job.layers:
        if layer.kind is LayerKind.SHEATHING:
            made += _sheathing(job, layer, members, sheets)
    return tuple(made)


def _sheathing(job: Job, layer: Layer, members: Sequence[Member], sheets: Sequence[Sheet]) -> Iterator[Fasteners]:
    """The nails of one layer; outer sheets of a roof are nailed as that, inner ones as any sheet of their kind."""
    kind = "roof" if job.is_roof and layer.z0 > 0.0 else job.catalog.sheet(layer.product).kind
    row = job.rules.sheet_nailing(layer.thickness, kind)
    nail = job.catalog.fastener(row.fastener)
    for part, spacing, rows in sheet_rows(layer, row, members, sheets):
        name = f"{layer.name} {part}"
        why = Why(f"nail.{name.replace(' ', '-')}", f"{nail.name} every {spacing:.0f} mm or less", row.cited)
        yield from _batches(job, name, nail, rows, True, why)


def _batches(job: Job, name: str, nail: Fastener, rows: Rows, of_sheets: bool, why: Why) -> Iterator[Fasteners]:
    """Nails of one kind in batches of one direction each."""
    if not len(rows.heads):
        return
    drives = np.round(rows.drives, 9) + 0.0
    kinds, which = np.unique(drives, axis=0, return_inverse=True)
    for number, drive in enumerate(kinds.tolist()):
        own = np.flatnonzero(which.reshape(-1) == number)
        yield Fasteners(
            id=f"{job.label}/{name}-{number + 1}",
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
