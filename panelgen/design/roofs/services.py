"""Services of a panel whose sticks slope: its share of the runs of the house, and what goes with them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely

from panelgen.catalog import RuleSet
from panelgen.design.brief import PanelBrief
from panelgen.design.fastening.lines import EDGE
from panelgen.design.fastening.service_rods import service_rods
from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.outline import section
from panelgen.design.roofs.pitch import plumb
from panelgen.design.services.bores import bore_room, bored
from panelgen.design.services.boxes import Place, boxes_in, sleeves_in
from panelgen.design.services.holes import Holes
from panelgen.design.services.runs import Space
from panelgen.design.services.shields import shields
from panelgen.design.services.supports import supports
from panelgen.design.trades.requests import Requests
from panelgen.geometry.frames import Point2, Vec3
from panelgen.geometry.rods import Rods
from panelgen.model import Box, Fitting, Hardware, Layer, LayerKind, Member, RunPart, Sleeve

__all__ = ["RoofServices", "services_in"]


@dataclass(frozen=True, slots=True, eq=False)
class RoofServices:
    """What of the services of a house lies in one panel, in its coordinates; `clearance` is as in `Requests`."""

    runs: tuple[RunPart, ...] = ()
    boxes: tuple[Box, ...] = ()
    sleeves: tuple[Sleeve, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    clearance: Mapping[str, float] = field(default_factory=dict)

    def bored(self, members: Sequence[Member], rules: RuleSet) -> tuple[Member, ...]:
        """The sticks of the panel with a bore wherever a run goes straight through one."""
        return bored([members], [self.runs], self.clearance, [bore_room(rules, bearing=True)])[0]

    def hardware(
        self, brief: RoofBrief | PanelBrief, members: Sequence[Member], rules: RuleSet
    ) -> tuple[Hardware, ...]:
        """The shield plates and supports of its runs."""
        if not self.runs:
            return ()
        panel = _Served(brief, tuple(members), self.runs, self.boxes)
        holes = Holes.of([members])
        return (*shields([panel], holes, rules)[0], *supports([panel], holes, rules)[0])

    def rods(self, layers: Sequence[Layer], members: Sequence[Member]) -> Rods:
        """What nails keep off: runs, bores, and the holes of sleeves with the room that nails keep from an edge."""
        rods, _ = service_rods([(members, self.runs)])
        holes = np.array([row for sleeve in self.sleeves for row in _holes(layers, sleeve)]).reshape(-1, 7)
        flat = np.zeros(len(rods) + len(holes), dtype=bool)
        start, end = np.concatenate((rods.start, holes[:, :3])), np.concatenate((rods.end, holes[:, 3:6]))
        return Rods.between(start, end, np.concatenate((rods.radius, holes[:, 6])), flat, flat)


@dataclass(frozen=True, slots=True, eq=False)
class _Served:
    """A panel in the making, as the rooms of services see it."""

    brief: RoofBrief | PanelBrief
    members: tuple[Member, ...]
    runs: tuple[RunPart, ...]
    boxes: tuple[Box, ...]


def services_in(briefs: Sequence[RoofBrief], requests: Requests) -> Iterator[RoofServices]:
    """The services of each panel."""
    spaces = [_space(brief) for brief in briefs]
    for brief, space, runs in zip(briefs, spaces, requests.runs_in(spaces), strict=True):
        boxes = requests.boxes.get(brief.plane.id, ())
        sleeves = requests.sleeves.get(brief.plane.id, ())
        if runs or boxes or sleeves:
            place = Place(brief.layers, brief.catalog, _finder(brief))
            yield RoofServices(
                runs,
                boxes_in(place, boxes),
                sleeves_in(place, sleeves, runs),
                requests.fittings_in(space),
                requests.clearance,
            )
        else:
            yield RoofServices()


def _space(brief: RoofBrief) -> Space:
    """The room that a panel takes, between the plumb planes of its sides."""
    low, high = min(layer.z0 for layer in brief.layers), max(layer.z1 for layer in brief.layers)
    corners = [brief.pitch.point(side.start, z) for side in brief.sides for z in (low, high)]
    least, most = ([pick(axis) for axis in zip(*corners, strict=True)] for pick in (min, max))
    lower, upper = (least[0], least[1], low), (most[0], most[1], high)
    return Space(brief.frame, lower, upper, tuple(plumb(brief.pitch, side.start, side.end) for side in brief.sides))


def _finder(brief: RoofBrief) -> Callable[[Point2], Point2 | None]:
    """Panel (x, y) of a place of the plane, along its edge and up its slope; None where it is in another panel."""
    area = section(brief, 0.0)

    def find(at: Point2) -> Point2 | None:
        x, y = at[0] - brief.start, at[1] - brief.pitch.base
        return (x, y) if shapely.contains_xy(area, x, y) else None

    return find


def _holes(layers: Sequence[Layer], sleeve: Sleeve) -> Iterator[tuple[float, ...]]:
    """The hole of a sleeve in each layer of sheets: both ends of its axis, and how far nails stay from that."""
    for layer in layers:
        if layer.kind is LayerKind.SHEATHING:
            x, y, diameter = sleeve.hole(layer.z0, layer.z1)
            ends: tuple[Vec3, Vec3] = (x, y, layer.z0), (x, y, layer.z1)
            yield (*ends[0], *ends[1], diameter / 2 + EDGE)
