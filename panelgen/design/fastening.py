"""Every nail and screw of a panel by schedule, in as few batches as there are kinds and directions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

import numpy as np

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.brief import PanelBrief
from panelgen.design.elevation import Elevation
from panelgen.design.end_joints import end_joints
from panelgen.design.face_joints import face_joints
from panelgen.design.laps import Laps, nails_along
from panelgen.design.nail_batches import batches
from panelgen.design.nail_lines import Kind, Nails
from panelgen.design.plies import Plies
from panelgen.design.seats import Seats, nails_on
from panelgen.design.service_rods import service_rods
from panelgen.design.sheet_edges import SheetEdges
from panelgen.design.sheet_nails import SheetSchedule, sheet_nails
from panelgen.design.stick_joints import schedule_of
from panelgen.design.strap_joints import strap_joints
from panelgen.geometry.frames import Floats
from panelgen.model import Fasteners, Finding, Layer, LayerKind, Member, RunPart, Sheet

__all__ = ["fasteners"]


def fasteners(
    brief: PanelBrief,
    members: Sequence[Member],
    sheets: Sequence[Sheet],
    rules: RuleSet,
    runs: Sequence[RunPart] = (),
) -> tuple[tuple[Fasteners, ...], tuple[Finding, ...]]:
    """The nails and screws of a panel, their indices those of `members` and `sheets`, and what was left out.

    No shank comes near a run or a bore: a nail that would is moved along its line, or left out, which
    is a finding. What was moved or put nearer to a sheet's edge than scheduled is counted in the
    batch's `why`.
    Raises CatalogError where the rule set has no nailing for a joint or a sheet.
    """
    if not members:
        return (), ()
    schedule = schedule_of(rules, brief.catalog)
    sticks = Elevation.of(members)
    plies = Plies.of(sticks)
    through, toed = end_joints(sticks, plies, schedule)
    crossings, along_straps = strap_joints(sticks, schedule)
    laps = Laps.joined((face_joints(sticks, plies, brief.lapped[0]), along_straps))
    tables = [nails_on(Seats.joined((through, crossings))), toed, nails_along(laps, schedule)]
    kinds = schedule.kinds
    close = np.zeros(sum(map(len, tables)), dtype=bool)
    if sheets:
        sheathing, faces = _sheet_schedule(brief, sheets, rules, len(kinds))
        kinds += faces
        nailed, near = sheet_nails(SheetEdges.of(sheets), sheathing, sticks, plies, brief.length)
        tables.append(nailed)
        close = np.concatenate((close, near))
    return batches(brief.label, Nails.joined(tables), close, kinds, service_rods(members, runs))


def _sheet_schedule(
    brief: PanelBrief, sheets: Sequence[Sheet], rules: RuleSet, first: int
) -> tuple[SheetSchedule, tuple[Kind, ...]]:
    """How every sheet is nailed, and the kinds of its nails, numbered from `first` on."""
    rows, kinds, table = _sheathing(brief.layers, rules, brief.catalog)
    which = np.array([rows[sheet.layer] for sheet in sheets])
    outer, contact, head, bite, edge_spacing, field_spacing, edge_distance = table[which].T
    kind = first + 2 * which
    return SheetSchedule(outer > 0.0, contact, head, bite, edge_spacing, field_spacing, edge_distance, kind), kinds


@lru_cache(maxsize=32)
def _sheathing(
    layers: tuple[Layer, ...], rules: RuleSet, catalog: Catalog
) -> tuple[Mapping[str, int], tuple[Kind, ...], Floats]:
    """The row of each sheathing layer by its name, two kinds of nails a layer, and a row of `SheetSchedule` each."""
    sheathing = [layer for layer in layers if layer.kind is LayerKind.SHEATHING]
    kinds: list[Kind] = []
    rows = []
    for layer in sheathing:
        row = rules.sheet_nailing(layer.thickness, catalog.sheet(layer.product).kind)
        nail = catalog.fastener(row.fastener)
        for part, spacing in (("edges", row.edge_spacing), ("field", row.field_spacing)):
            words = f"{nail.name} every {spacing:.0f} mm or less"
            kinds.append(Kind(f"{layer.name} {part}", nail, words, row.cited, of_sheets=True))
        outer = layer.z0 > 0.0
        contact, head = (layer.z0, layer.z1) if outer else (layer.z1, layer.z0)
        bite = nail.length - layer.thickness
        rows.append((float(outer), contact, head, bite, row.edge_spacing, row.field_spacing, row.edge_distance))
    return {layer.name: number for number, layer in enumerate(sheathing)}, tuple(kinds), np.array(rows)
