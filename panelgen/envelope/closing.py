"""How the edges of a barrier are closed: by a seal at a joint, or because another panel covers them.

An edge that stands in the body of another panel is behind that panel's barrier, like the end of sheathing that
laps past a corner: it need not be closed. Every other stretch of an edge must lie within the reach of a seal
from what it is joined to: a sheet of another panel or of its own, a unit, the foundation. What is left is open.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from panelgen.catalog import Catalog
from panelgen.envelope.bodies import bodies, dormer_ground, footprint, frames_of
from panelgen.envelope.surfaces import Edges, Surface, barrier_layers, sealed_face
from panelgen.geometry.boxes import Boxes, Ints, overlapping
from panelgen.geometry.convex import Convex
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import FOUNDATION, Barrier, House, Joint, JointKind, Opening, Panel, PanelKind

__all__ = ["Closing", "Stretches", "closing"]

_NO_JOINT = -1
_ASIDE = 1.0
"""How far into the sheet and off its face (mm) it is judged what an edge is beside."""

_LEAST = 2.0
"""Stretches shorter than this (mm) are rounding at the corners of sheets; common practice, no source."""

_NEAR = 50.0
"""Seals that bridge more than this (mm) are looked for apart from the others, for there are few."""

_AT_UNIT = 13.0
"""An edge this near (mm) to a rough opening is at the unit: 1/2 in., common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """n stretches: the edge of each, from `low` to `high` as shares of its length, and its joint, (n,) each."""

    edge: Ints
    low: Floats
    high: Floats
    joint: Ints

    def taken(self, rows: Bools) -> Stretches:
        """The stretches of these rows."""
        return Stretches(*(getattr(self, name)[rows] for name in Stretches.__slots__))


@dataclass(frozen=True, slots=True, eq=False)
class Closing:
    """The edges of one barrier of a house, which stretches of them are sealed, and which are left open.

    `joint` of an open stretch is one that lies there but has no seal, or -1.
    """

    barrier: Barrier
    edges: Edges
    sealed: Stretches
    open: Stretches


def closing(house: House, barrier: Barrier, catalog: Catalog) -> Closing:
    """How a barrier of the house is closed. Raises CatalogError for a seal that the catalog lacks."""
    panels = [panel for panel in house.panels if any(barrier_layers(panel, barrier))]
    surface = Surface.of(panels, barrier)
    joints = _Joints.of(house.joints, panels, barrier, catalog)
    covered = _covered(surface, panels, barrier)
    if barrier is Barrier.WEATHER:
        covered = _joined((covered, _under_dormers(surface, panels)))
    every = np.arange(len(surface.edges))
    near = _to_sheets(surface, joints, every, 0.0, _NEAR)
    met = _joined((near, _to_units(surface, panels, joints), _to_ground(surface, joints)))
    sealed, bare = _told_apart(met, joints)
    gaps = _gaps(surface.edges, _joined((covered, sealed)))
    if joints.reach.max() > _NEAR:
        far = _to_sheets(surface, joints, np.unique(gaps.edge), _NEAR, joints.reach.max())
        sealed, bare = _told_apart(_joined((met, far)), joints)
        gaps = _gaps(surface.edges, _joined((covered, sealed)))
    gaps = gaps.taken(~_drips(surface.edges, gaps, panels, house))
    return Closing(barrier, surface.edges, sealed, replace(gaps, joint=_joint_at(gaps, bare)))


@dataclass(frozen=True, slots=True, eq=False)
class _Joints:
    """The joints of some panels: the number of that between two panels (p, p), under one (p,), or around an opening.

    `ground` (p,) is the height of what is under a panel, house z, mm. `reach` (joints + 1,) is how far the seal of
    each bridges, mm, below 0 where it has none, and `stacked` (joints + 1,) whether a floor may lie in it. The last
    one stands for no joint.
    """

    between: Ints
    below: Ints
    ground: Floats
    around: Mapping[tuple[int, str], int]
    reach: Floats
    stacked: Bools

    @classmethod
    def of(cls, joints: Sequence[Joint], panels: Sequence[Panel], barrier: Barrier, catalog: Catalog) -> _Joints:
        numbers = {panel.label: number for number, panel in enumerate(panels)}
        between = np.full((len(panels), len(panels)), _NO_JOINT)
        below = np.full(len(panels), _NO_JOINT)
        ground = np.zeros(len(panels))
        around: dict[tuple[int, str], int] = {}
        reach = np.full(len(joints) + 1, -1.0)
        for number, joint in enumerate(joints):
            one, other = joint.panels
            if one not in numbers:
                continue
            product = joint.air if barrier is Barrier.AIR else joint.weather
            if product:
                reach[number] = catalog.seal(product).bridges
            if joint.kind is JointKind.OPENING:
                around[numbers[one], other] = number
            elif other == FOUNDATION:
                below[numbers[one]] = number
                ground[numbers[one]] = joint.point[2]
            elif other in numbers:
                between[numbers[one], numbers[other]] = between[numbers[other], numbers[one]] = number
        stacked = np.array([*(joint.kind is JointKind.STACKED for joint in joints), False])
        return cls(between, below, ground, around, reach, stacked)


def _joined(parts: Sequence[Stretches]) -> Stretches:
    return Stretches(*(np.concatenate([getattr(part, name) for part in parts]) for name in Stretches.__slots__))


def _told_apart(met: Stretches, joints: _Joints) -> tuple[Stretches, Stretches]:
    """The stretches at joints with a seal, and at those without."""
    reach = joints.reach[met.joint]
    return met.taken(reach >= 0.0), met.taken(reach < 0.0)


def _inside(
    edges: Edges, edge: Ints, solids: Convex, solid: Ints, grown: Floats, joint: Ints, *offs: Floats
) -> Stretches:
    """Where each `edge`, moved by its row of any of `offs` (e, 3), is inside its `solid`, grown by so much."""
    shares, *others = (
        solids.stretches(solid, edges.start[edge] + off[edge], edges.end[edge] + off[edge], grown) for off in offs
    )
    for other in others:
        shares = _as_one(shares, other)
    size = (shares[:, 1] - shares[:, 0]) * edges.length[edge]
    rows = size > _LEAST
    return Stretches(edge[rows], shares[rows, 0], shares[rows, 1], joint[rows])


def _as_one(one: Floats, other: Floats) -> Floats:
    """(n, 2) two stretches of each line joined where they overlap, or else the longer."""
    joined = np.stack((np.minimum(one[:, 0], other[:, 0]), np.maximum(one[:, 1], other[:, 1])), axis=1)
    overlap = np.maximum(one[:, 0], other[:, 0]) <= np.minimum(one[:, 1], other[:, 1])
    longer = np.where((one[:, 1] - one[:, 0] >= other[:, 1] - other[:, 0])[:, None], one, other)
    result: Floats = np.where(overlap[:, None], joined, longer)
    return result


def _boxes(edges: Edges, grown: float) -> Boxes:
    return Boxes.around(np.stack((edges.start, edges.end), axis=1)).grown(grown)


def _covered(surface: Surface, panels: Sequence[Panel], barrier: Barrier) -> Stretches:
    """The stretches of edges that stand in the body of another panel."""
    edges = surface.edges
    depths = [_behind(panel, barrier) for panel in panels]
    solids = bodies(panels, np.array(depths).reshape(-1, 2))
    edge, panel = overlapping(_boxes(edges, 2 * _ASIDE), solids.boxes)
    other = edges.panel[edge] != panel
    edge, panel = edge[other], panel[other]
    off = (edges.inward + edges.facing) * _ASIDE
    nothing = np.zeros(len(edge))
    return _inside(edges, edge, solids, panel, nothing, np.full(len(edge), _NO_JOINT), off)


def _behind(panel: Panel, barrier: Barrier) -> tuple[float, float]:
    """Panel z from a barrier's sealed face to the far side of the panel."""
    low, high = panel.depth
    z, sense = sealed_face(next(barrier_layers(panel, barrier)), barrier)
    return (low, z) if sense > 0.0 else (z, high)


def _to_sheets(surface: Surface, joints: _Joints, among: Ints, near: float, far: float) -> Stretches:
    """The stretches of some edges within reach of another sheet, by what joins the two panels.

    Taken are seals that bridge more than `near` and no more than `far` (mm). One that bridges little reaches from
    either face of the sheet: it may be folded over the cut. One that bridges far does so ahead of the edge, not
    beside its ends.
    """
    edges = surface.edges
    edge, sheet = overlapping(_boxes(edges, far).take(among), surface.sheets.boxes)
    edge = among[edge]
    joint = joints.between[edges.panel[edge], surface.panel[sheet]]
    bare = np.where(joints.stacked[joint] == (far > _NEAR), far, 0.0)
    reach = np.where(joints.reach[joint] < 0.0, bare, joints.reach[joint])
    rows = (joint != _NO_JOINT) & (reach > near) & (reach <= far) & (edges.sheet[edge] != sheet)
    edge, sheet, joint, reach = edge[rows], sheet[rows], joint[rows], reach[rows]
    if far > _NEAR:
        ahead = (far - _NEAR) / 2
        return _inside(edges, edge, surface.sheets, sheet, reach - ahead, joint, -ahead * edges.inward)
    back = -edges.facing * surface.thickness[edges.sheet, None]
    return _inside(edges, edge, surface.sheets, sheet, reach, joint, np.zeros_like(back), back)


def _to_units(surface: Surface, panels: Sequence[Panel], joints: _Joints) -> Stretches:
    """The stretches around rough openings, which are sealed to the unit."""
    holes = [
        (number, joints.around[number, hole.id], hole)
        for number, panel in enumerate(panels)
        for hole in panel.openings
        if (number, hole.id) in joints.around
    ]
    return _around(surface, panels, holes)


def _under_dormers(surface: Surface, panels: Sequence[Panel]) -> Stretches:
    """The stretches around the openings of dormers, which are inside these: the barrier goes on over their roofs."""
    dormers = dict.fromkeys(panel.dormer for panel in panels)
    holes = [
        (number, _NO_JOINT, hole)
        for number, panel in enumerate(panels)
        for hole in panel.openings
        if not panel.dormer and hole.id in dormers
    ]
    return _around(surface, panels, holes)


def _around(surface: Surface, panels: Sequence[Panel], holes: Sequence[tuple[int, int, Opening]]) -> Stretches:
    """The stretches at rough openings, each with the number of its panel and of its joint."""
    owner = np.array([number for number, _, _ in holes], dtype=np.int64)
    rings = [((h.x0, h.y0), (h.x1, h.y0), (h.x1, h.y1), (h.x0, h.y1)) for _, _, h in holes]
    origins, axes = frames_of(panels)
    depths = np.array([panels[number].depth for number in owner.tolist()]).reshape(-1, 2)
    solids = Convex.prisms(rings, depths, origins[owner], axes[owner])
    edge, hole = overlapping(_boxes(surface.edges, _NEAR), solids.boxes)
    same = surface.edges.panel[edge] == owner[hole]
    edge, hole = edge[same], hole[same]
    joint = np.array([number for _, number, _ in holes], dtype=np.int64)[hole]
    grown = np.full(len(edge), _AT_UNIT)
    return _inside(surface.edges, edge, solids, hole, grown, joint, np.zeros_like(surface.edges.start))


def _to_ground(surface: Surface, joints: _Joints) -> Stretches:
    """The edges of the lowest panels that are within reach of the foundation, a level plane."""
    edges = surface.edges
    joint = joints.below[edges.panel]
    reach = np.where(joints.reach[joint] < 0.0, _NEAR, joints.reach[joint])
    above = np.maximum(edges.start[:, 2], edges.end[:, 2]) - joints.ground[edges.panel]
    edge = np.flatnonzero((joint != _NO_JOINT) & (above <= reach))
    return Stretches(edge, np.zeros(len(edge)), np.ones(len(edge)), joint[edge])


def _drips(edges: Edges, gaps: Stretches, panels: Sequence[Panel], house: House) -> Bools:
    """(gaps,) the edges of a roof beyond the walls, from which water drips: they need not be closed."""
    roofs = np.array([panel.kind is PanelKind.ROOF for panel in panels], dtype=bool)
    beyond = roofs[edges.panel[gaps.edge]]
    if not beyond.any():
        return beyond
    plans = {"": footprint(house.panels)}
    for row in np.flatnonzero(beyond).tolist():
        edge = gaps.edge[row]
        name = panels[edges.panel[edge]].dormer
        if name not in plans:
            plans[name] = dormer_ground([panel for panel in house.panels if panel.dormer == name])
        start, along = edges.start[edge, :2], (edges.end - edges.start)[edge, :2]
        line = shapely.LineString([start + share * along for share in (gaps.low[row], gaps.high[row])])
        beyond[row] = not plans[name].intersects(line)
    return beyond


def _gaps(edges: Edges, closed: Stretches) -> Stretches:
    """The stretches of edges that no closed one covers, in the order of the edges and along each."""
    every = np.arange(len(edges), dtype=float)
    # Each edge has its own stretch of a line, from twice its number on, with nothing closed at both of its ends.
    low = np.concatenate((2 * every, 2 * every + 1, 2 * closed.edge + closed.low))
    high = np.concatenate((2 * every, 2 * every + 1, 2 * closed.edge + closed.high))
    order = np.argsort(low, kind="stable")
    low, reached = low[order], np.maximum.accumulate(high[order])
    start, stop = reached[:-1], low[1:]
    edge = (start / 2).astype(np.int64)
    size = (stop - start) * edges.length[np.minimum(edge, len(edges) - 1)]
    rows = np.flatnonzero((size > _LEAST) & (stop <= 2 * edge + 1))
    edge = edge[rows]
    first = 2.0 * edge
    return Stretches(edge, start[rows] - first, stop[rows] - first, np.full(len(rows), _NO_JOINT))


def _joint_at(gaps: Stretches, bare: Stretches) -> Ints:
    """(gaps,) a joint without a seal that takes half of each gap or more, or -1."""
    joint = gaps.joint.copy()
    for edge, low, high, number in zip(*(getattr(bare, name).tolist() for name in Stretches.__slots__), strict=True):
        shared = np.minimum(gaps.high, high) - np.maximum(gaps.low, low)
        here = (gaps.edge == edge) & (2 * shared >= gaps.high - gaps.low)
        joint[here & (joint == _NO_JOINT)] = number
    return joint
