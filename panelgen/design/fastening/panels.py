"""Every nail and screw of panels by schedule, in as few batches as there are kinds and directions.

Many panels are nailed at once: their sticks, sheets and nails are rows of the same arrays, each with the number
of its panel.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from functools import lru_cache
from itertools import product

import numpy as np

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.fastening.batches import Nailed, batches
from panelgen.design.fastening.elevation import Elevation
from panelgen.design.fastening.end_joints import end_joints
from panelgen.design.fastening.face_joints import face_joints
from panelgen.design.fastening.laps import Laps, nails_along
from panelgen.design.fastening.lines import Kind, Nails
from panelgen.design.fastening.plies import Plies
from panelgen.design.fastening.seats import Seats, nails_on
from panelgen.design.fastening.service_rods import service_rods
from panelgen.design.fastening.sheet_edges import SheetEdges
from panelgen.design.fastening.sheet_nails import SheetSchedule, sheet_nails
from panelgen.design.fastening.stick_joints import schedule_of
from panelgen.design.fastening.strap_joints import strap_joints
from panelgen.geometry.boxes import Ints
from panelgen.model import Layer, LayerKind, Member, RunPart, Sheet

__all__ = ["Unnailed", "fasteners"]

_AT_ONCE = 16
"""So many panels share arrays that a call costs each of them little, and so few that the arrays stay in the cache."""


@dataclass(frozen=True, slots=True, eq=False)
class Unnailed:
    """What is nailed together in a panel `length` mm long, and the services that nails keep off.

    `lapped_left` says whether the loose piece that ties its cap plates comes with the panel on the left.
    `guests` are loose sheets of another panel that lap onto this one, in its coordinates.
    """

    label: str
    length: float
    layers: tuple[Layer, ...]
    members: Sequence[Member]
    sheets: Sequence[Sheet] = ()
    runs: Sequence[RunPart] = ()
    lapped_left: bool = False
    guests: Sequence[Sheet] = ()

    @property
    def covering(self) -> tuple[Sheet, ...]:
        """All sheets nailed to the panel's sticks: its own, then its guests."""
        return (*self.sheets, *self.guests)


def fasteners(panels: Sequence[Unnailed], rules: RuleSet, catalog: Catalog) -> list[Nailed]:
    """The nails and screws of each panel, their indices those of its members and sheets, and what was left out.

    No shank comes near a run or a bore: a nail that would is moved along its line, or left out, which
    is a finding. What was moved or put nearer to a sheet's edge than scheduled is counted in the
    batch's `why`. The crew nails loose sheets; the nails of guests have the stick that they go into
    as the part under the head too.
    Raises CatalogError where the rule set has no nailing for a joint or a sheet.
    """
    made: list[Nailed] = [((), ())] * len(panels)
    framed = [number for number, panel in enumerate(panels) if panel.members]
    for first in range(0, len(framed), _AT_ONCE):
        numbers = framed[first : first + _AT_ONCE]
        lot = [panels[number] for number in numbers]
        for number, nailed in zip(numbers, _nailed(lot, rules, catalog), strict=True):
            made[number] = nailed
    return made


def _nailed(panels: Sequence[Unnailed], rules: RuleSet, catalog: Catalog) -> list[Nailed]:
    schedule = schedule_of(rules, catalog)
    sticks = Elevation.of([panel.members for panel in panels])
    plies = Plies.of(sticks)
    through, toed = end_joints(sticks, plies, schedule)
    crossings, along_straps = strap_joints(sticks, schedule)
    lapped_left = np.array([panel.lapped_left for panel in panels])
    laps = Laps.joined((face_joints(sticks, plies, lapped_left), along_straps))
    tables = [nails_on(Seats.joined((through, crossings))), toed, nails_along(laps, schedule)]
    kinds = schedule.kinds
    of_sticks = sum(map(len, tables))
    close = np.zeros(of_sticks, dtype=bool)
    if any(panel.covering for panel in panels):
        edges = SheetEdges.of([panel.covering for panel in panels])
        sheathing, faces = _sheet_schedule(panels, rules, catalog, len(kinds))
        length = np.array([panel.length for panel in panels])
        nailed, near = sheet_nails(edges, sheathing, sticks, plies, length)
        kinds += faces
        tables.append(nailed)
        close = np.concatenate((close, near))
    nails = Nails.joined(tables)
    panel = sticks.panel[nails.into]
    first = _firsts(len(one.members) for one in panels)[panel]
    nails.into[:] -= first
    nails.fastened[:of_sticks] -= first[:of_sticks]
    nails.fastened[of_sticks:] -= _firsts(len(one.covering) for one in panels)[panel[of_sticks:]]
    if any(one.guests for one in panels):
        own = np.array([len(one.sheets) for one in panels])[panel[of_sticks:]]
        guest = of_sticks + np.flatnonzero(nails.fastened[of_sticks:] >= own)
        nails.fastened[guest] = nails.into[guest]
    services, of = service_rods([(one.members, one.runs) for one in panels])
    return batches([one.label for one in panels], panel, nails, close, kinds, services, of)


def _firsts(counts: Iterable[int]) -> Ints:
    """(panels,) the row of the first part of each panel, of so many parts each."""
    each = np.array([*counts], dtype=np.int64)
    return each.cumsum() - each


def _sheet_schedule(
    panels: Sequence[Unnailed], rules: RuleSet, catalog: Catalog, first: int
) -> tuple[SheetSchedule, tuple[Kind, ...]]:
    """How every sheet is nailed, and the kinds of its nails, numbered from `first` on."""
    rows: list[tuple[float, ...]] = []
    kinds: list[Kind] = []
    starts: dict[tuple[tuple[Layer, ...], tuple[_Manner, ...]], int] = {}
    which: list[int] = []
    for panel in panels:
        laps = panel.guests or any(sheet.loose for sheet in panel.sheets)
        manners = tuple(_Manner) if laps else (_Manner.BUILT,)
        faces = _faces(panel.layers, manners, rules, catalog)
        if (panel.layers, manners) not in starts:
            starts[panel.layers, manners] = len(rows)
            rows += [face.row for face in faces.values()]
            kinds += [kind for face in faces.values() for kind in face.kinds]
        start, numbers = starts[panel.layers, manners], {name: number for number, name in enumerate(faces)}
        which += [start + numbers[sheet.layer, _Manner(sheet.loose)] for sheet in panel.sheets]
        which += [start + numbers[sheet.layer, _Manner.GUEST] for sheet in panel.guests]
    outer, contact, head, bite, edge_spacing, field_spacing, edge_distance = np.array(rows)[which].T
    kind = first + 2 * np.array(which)
    schedule = SheetSchedule(outer > 0.0, contact, head, bite, edge_spacing, field_spacing, edge_distance, kind)
    return schedule, tuple(kinds)


class _Manner(IntEnum):
    """How a sheet comes to a panel: built in by the shop, loose with it, or loose with another panel."""

    BUILT = 0
    LOOSE = 1
    GUEST = 2


_LAPS = {_Manner.BUILT: "", _Manner.LOOSE: "lap ", _Manner.GUEST: "lap from the left "}


@dataclass(frozen=True, slots=True)
class _Face:
    """How the sheets of a layer are nailed: the fields of `SheetSchedule` but its kinds, and the kinds of nails."""

    row: tuple[float, ...]
    kinds: tuple[Kind, Kind]


@lru_cache(maxsize=32)
def _faces(
    layers: tuple[Layer, ...], manners: tuple[_Manner, ...], rules: RuleSet, catalog: Catalog
) -> dict[tuple[str, _Manner], _Face]:
    """The nailing of each sheathing layer by its name, for sheets that come in each of `manners`."""
    faces = {}
    for manner, layer in product(manners, layers):
        if layer.kind is not LayerKind.SHEATHING:
            continue
        row = rules.sheet_nailing(layer.thickness, catalog.sheet(layer.product).kind)
        nail = catalog.fastener(row.fastener)
        edges, field = (
            Kind(
                f"{layer.name} {_LAPS[manner]}{part}",
                nail,
                f"{nail.name} every {spacing:.0f} mm or less",
                row.cited,
                of_sheets=manner is not _Manner.GUEST,
                on_site=manner is not _Manner.BUILT,
            )
            for part, spacing in (("edges", row.edge_spacing), ("field", row.field_spacing))
        )
        outer = layer.z0 > 0.0
        contact, head = (layer.z0, layer.z1) if outer else (layer.z1, layer.z0)
        bite = nail.length - layer.thickness
        spacings = (row.edge_spacing, row.field_spacing, row.edge_distance)
        faces[layer.name, manner] = _Face((float(outer), contact, head, bite, *spacings), (edges, field))
    return faces
