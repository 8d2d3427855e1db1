"""Panels as convex solids in the house, for what touches or covers what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from panelgen.geometry.boxes import Boxes, Ints, overlapping
from panelgen.geometry.convex import Convex, hull_ring
from panelgen.geometry.frames import Floats, Point2, Vec3
from panelgen.model import LayerKind, Panel, PanelKind, Sheet

__all__ = ["LayerBodies", "bodies", "contacts", "dormer_ground", "footprint", "frames_of", "layer_bodies"]

_ASIDE = 25.0
"""Walls whose framing is this near (mm) stand around one house."""

_BEHIND = 1e5

_LEAST = 50.0
"""Panels that meet over less than this (mm) touch at a corner only; common practice, no source."""

_TOUCHES = 0.5
"""Panels no farther apart than this (mm) touch."""

_LEVEL = 0.02
"""An edge that leaves a plane by no more than this share of its length runs along it."""


def frames_of(panels: Sequence[Panel]) -> tuple[Floats, Floats]:
    """Origins (p, 3) and axes (p, 3, 3) of panels: a point x of one is ``x @ axes + origin`` in the house."""
    rows = [(*panel.frame.origin, *panel.frame.x, *panel.frame.y) for panel in panels]
    table = np.array(rows, dtype=float).reshape(-1, 9)
    x, y = table[:, 3:6], table[:, 6:9]
    return table[:, :3], np.stack((x, y, np.cross(x, y)), axis=1)


def bodies(panels: Sequence[Panel], depths: Floats) -> Convex:
    """The hull of each panel's framing and sheets in elevation, between the panel z of `depths` (p, 2), mm."""
    origins, axes = frames_of(panels)
    return Convex.prisms([_outline(panel) for panel in panels], depths, origins, axes)


@dataclass(frozen=True, slots=True, eq=False)
class LayerBodies:
    """The layers of panels as convex solids: the panel of each (k,), and its corners in the house, (n, 3) each."""

    solids: Convex
    owner: Ints
    corners: tuple[Floats, ...]


def layer_bodies(panels: Sequence[Panel]) -> LayerBodies:
    """The framing and every sheathing of panels, each as its hull; straps and loose parts apart.

    The sticks of a roof panel end in plumb planes at hips, valleys and ridges, so their hull is that of their
    corners; other framing is as deep all over as its outline. Walls of dormers are taken as their framing: what of
    their sheets lines the opening below is in nobody's way.
    """
    lots = [(number, *lot) for number, panel in enumerate(panels) for lot in _layers(panel)]
    owner = np.array([number for number, _, _ in lots], dtype=np.int64)
    origins, axes = frames_of(panels)
    corners = [
        np.array([(x, y, z) for x, y in ring for z in depth]) @ axes[number] + origins[number]
        for number, ring, depth in lots
    ]
    depths = np.array([depth for _, _, depth in lots]).reshape(-1, 2)
    solids = Convex.prisms([ring for _, ring, _ in lots], depths, origins[owner], axes[owner])
    roofs = [(number, panel) for number, panel in enumerate(panels) if panel.kind is PanelKind.ROOF]
    clouds = [
        panel.frame.to_parent(np.concatenate([m.corners() for m in panel.members if not m.loose])) for _, panel in roofs
    ]
    solids = Convex.joined((solids, Convex.hulls(clouds)))
    return LayerBodies(solids, np.concatenate((owner, [number for number, _ in roofs])), (*corners, *clouds))


def _layers(panel: Panel) -> Iterator[tuple[tuple[Point2, ...], tuple[float, float]]]:
    for layer in panel.layers:
        framed = layer.kind is LayerKind.FRAMING and panel.kind is not PanelKind.ROOF
        stands = panel.dormer != "" and panel.kind is not PanelKind.ROOF
        points = [*panel.profile] if framed or stands else []
        for sheet in panel.sheets:
            if sheet.layer == layer.name and not sheet.loose and not stands:
                points += _in_panel(sheet)
        if points:
            yield _hull(points), (layer.z0, layer.z1)


def footprint(panels: Sequence[Panel]) -> shapely.Geometry:
    """What the framing of the exterior walls stands around, in plan, as one area without holes; not that of dormers."""
    walls = [panel for panel in panels if panel.kind is PanelKind.EXTERIOR_WALL and not panel.dormer]
    boxes = [shapely.convex_hull(_ground(panel)).buffer(_ASIDE, join_style="mitre") for panel in walls]
    parts = shapely.get_parts(shapely.union_all(boxes))
    return shapely.union_all([shapely.Polygon(part.exterior) for part in parts]).buffer(-2 * _ASIDE)


def dormer_ground(panels: Sequence[Panel]) -> shapely.Geometry:
    """What the walls of one dormer stand around, in plan, and everything behind that, where its roof ends on another.

    Its front wall is the first of its panels.
    """
    walls = [panel for panel in panels if panel.kind is PanelKind.EXTERIOR_WALL]
    (dx, dy, _) = walls[0].frame.z
    stood = shapely.convex_hull(shapely.union_all([_ground(panel) for panel in walls]))
    behind = shapely.transform(stood, lambda places: places - _BEHIND * np.array((dx, dy)))
    return shapely.convex_hull(shapely.union(stood, behind)).buffer(-_ASIDE)


def _ground(panel: Panel) -> shapely.Geometry:
    """The corners of a wall's framing in plan."""
    return shapely.MultiPoint(
        [panel.frame.point(x, 0.0, z)[:2] for x in (0.0, panel.length) for z in (0.0, panel.framing.z1)]
    )


def contacts(panels: Sequence[Panel], within: float) -> Iterator[tuple[int, int, Vec3, Vec3]]:
    """Pairs of panels nearer than `within` (mm), straps apart, and both ends of the longest edge that they share.

    Such an edge runs along the faces of both: panels that touch only where their ends or corners are share none.
    """
    depths = np.array([_depth(panel) for panel in panels]).reshape(-1, 2)
    solids = bodies(panels, depths)
    owner, start, end = _edges(panels, depths)
    edge, panel = overlapping(Boxes.around(np.stack((start, end), axis=1)).grown(within), solids.boxes)
    along, normal = (end - start)[edge], frames_of(panels)[1][panel, 2]
    level = np.abs(np.einsum("ec,ec->e", along, normal)) <= _LEVEL * np.linalg.norm(along, axis=1)
    edge, panel = (rows[level & (owner[edge] != panel)] for rows in (edge, panel))
    shares = solids.stretches(panel, start[edge], end[edge], np.full(len(edge), within))
    along = end[edge] - start[edge]
    size = (shares[:, 1] - shares[:, 0]) * np.linalg.norm(along, axis=1)
    longest: dict[tuple[int, int], tuple[float, int]] = {}
    pairs = np.sort(np.stack((owner[edge], panel), axis=1), axis=1)
    for row in np.flatnonzero(size > _LEAST).tolist():
        i, j = pairs[row].tolist()
        longest[i, j] = max(longest.get((i, j), (0.0, 0)), (float(size[row]), row))
    chosen = np.array([row for _, (_, row) in sorted(longest.items())], dtype=np.int64)
    edge, panel, shares = edge[chosen], panel[chosen], shares[chosen]
    touching = solids.stretches(panel, start[edge], end[edge], np.full(len(edge), _TOUCHES))
    touch = touching[:, 1] > touching[:, 0]
    shares[touch] = touching[touch]  # without what is near past the ends
    ends = start[edge][:, None] + shares[:, :, None] * (end - start)[edge][:, None]
    for (i, j), ((ax, ay, az), (bx, by, bz)) in zip(sorted(longest), ends.tolist(), strict=True):
        yield i, j, (ax, ay, az), (bx, by, bz)


def _depth(panel: Panel) -> tuple[float, float]:
    solid = [layer for layer in panel.layers if layer.kind is not LayerKind.STRAPPING]
    return min(layer.z0 for layer in solid), max(layer.z1 for layer in solid)


def _edges(panels: Sequence[Panel], depths: Floats) -> tuple[Ints, Floats, Floats]:
    """The edges around the faces of the bodies, in the house: the panel of each (e,), and both ends (e, 3).

    Those of a roof are around its framing, whose plumb ends meet at ridges, hips and valleys at any slope; what lies
    on it ends short of that or reaches past.
    """
    owner: list[int] = []
    starts: list[tuple[float, float, float]] = []
    ends: list[tuple[float, float, float]] = []
    for number, (panel, (low, high)) in enumerate(zip(panels, depths.tolist(), strict=True)):
        plumb = panel.kind is PanelKind.ROOF and not panel.dormer
        ring = _outline(panel)
        for face, z in _sections(panel) if plumb else ((ring, low), (ring, high)):
            around = [(x, y, z) for x, y in face]
            starts += around
            ends += [*around[1:], around[0]]
            owner += [number] * len(around)
    rows = np.array(owner, dtype=np.int64)
    origins, axes = frames_of(panels)
    start, end = (
        np.einsum("ei,eij->ej", np.array(points).reshape(-1, 3), axes[rows]) + origins[rows]
        for points in (starts, ends)
    )
    return rows, start, end


def _sections(panel: Panel) -> Iterator[tuple[tuple[Point2, ...], float]]:
    """The outline of a roof's framing at its lower and upper face, and the z of each.

    Its sides are plumb, so they move up the slope from one to the other, and the profile is what they cover on the way.
    """
    low, high = panel.framing.z0, panel.framing.z1
    move = (high - low) * panel.frame.y[2] / panel.frame.z[2]
    whole = shapely.Polygon(panel.profile)
    section = shapely.intersection(whole, shapely.transform(whole, lambda places: places - (0.0, move)))
    ring = hull_ring(list(section.exterior.coords))
    yield ring, low
    yield tuple((x, y + move) for x, y in ring), high


def _outline(panel: Panel) -> tuple[Point2, ...]:
    return _hull([*panel.profile, *(point for sheet in panel.sheets for point in _in_panel(sheet))])


def _in_panel(sheet: Sheet) -> list[Point2]:
    x0, y0, _ = sheet.frame.origin
    return [(x0 + x, y0 + y) for x, y in sheet.outline]


def _hull(points: Sequence[Point2]) -> tuple[Point2, ...]:
    xs, ys = zip(*points, strict=True)
    box = (min(xs), min(ys)), (max(xs), min(ys)), (max(xs), max(ys)), (min(xs), max(ys))
    return box if all(corner in points for corner in box) else hull_ring(points)
