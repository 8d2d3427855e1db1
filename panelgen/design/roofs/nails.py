"""Nails by schedule where sticks slope: sheathing to every stick behind it, and sticks through one another."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.fastening.batches import Nailed, batches
from panelgen.design.fastening.lines import Kind, Nails
from panelgen.design.fastening.service_rods import service_rods
from panelgen.design.roofs.joint_nails import joint_nails
from panelgen.design.roofs.sheet_lines import Rows, sheet_rows
from panelgen.design.roofs.sticks import Sticks
from panelgen.geometry.rods import Rods
from panelgen.model import Layer, LayerKind, Member, Sheet

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
    services: Rods | None = None,
) -> Nailed:
    """The nails of a panel, their indices those of `members` and `sheets`: joints of the sticks first.

    There is a batch for each kind and direction. `more` are the nails of other joints of the schedule. Nails keep off
    `services`: those of sheets are moved along their stick, and what finds no place is left out, which is a finding.
    """
    kinds: list[Kind] = []
    tables: list[Nails] = []

    def add(kind: Kind, rows: Rows) -> None:
        number = np.full(len(rows.heads), len(kinds))
        kinds.append(kind)
        tables.append(
            Nails(number, rows.heads, rows.drives, rows.slides, rows.back, rows.ahead, rows.fastened, rows.into)
        )

    joints = joint_nails(job.rules, job.catalog, sticks.joints, members)
    for joint, rows in {**joints, **(more or {})}.items():
        row = job.rules.joint(joint)
        apart = (
            f"{row.fastener} every {row.spacing:.0f} mm" if row.spacing else f"{row.count} {row.fastener} to a joint"
        )
        add(Kind(joint, job.catalog.fastener(row.fastener), f"{row.fastener}, {apart}", row.cited), rows)
    for layer in job.layers:
        if layer.kind is not LayerKind.SHEATHING:
            continue
        # Outer sheets of a roof are nailed as that, inner ones as any sheet of their kind.
        face = "roof" if job.is_roof and layer.z0 > 0.0 else job.catalog.sheet(layer.product).kind
        nailing = job.rules.sheet_nailing(layer.thickness, face)
        nail = job.catalog.fastener(nailing.fastener)
        for part, spacing, rows in sheet_rows(layer, nailing, members, sheets):
            words = f"{nail.name} every {spacing:.0f} mm or less"
            add(Kind(f"{layer.name} {part}", nail, words, nailing.cited, of_sheets=True), rows)
    nails = Nails.joined(tables) if tables else ()
    if not nails:
        return (), ()
    rods = service_rods([])[0] if services is None else services
    panel, of = np.zeros(len(nails), dtype=np.int64), np.zeros(len(rods), dtype=np.int64)
    return batches([job.label], panel, nails, np.zeros(len(nails), dtype=bool), kinds, rods, of)[0]
