"""The footprint of a roof: its edges, how far the roof overhangs each, and how rafters sit on the plate there."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from panelgen.catalog import Catalog, Lumber
from panelgen.design.roofs.boards import room_over
from panelgen.design.roofs.pitch import Pitch
from panelgen.design.walls.plan import layer_stack
from panelgen.geometry.frames import Point2
from panelgen.geometry.rings import segments
from panelgen.geometry.roof_planes import OutlineEdge
from panelgen.model import LayerKind
from panelgen.spec import HouseSpec
from panelgen.spec.roofs import RoofEdge, RoofSpec
from panelgen.spec.walls import Level

__all__ = ["FootprintEdge", "edges_of", "gable_face", "outline_of", "walls_below"]

_SAME = 1e-4


@dataclass(frozen=True, slots=True)
class FootprintEdge:
    """An edge of the footprint in the roof's own axes, its slope and overhang, and the seat of its rafters."""

    name: str
    start: Point2
    end: Point2
    tangent: float
    overhang: float
    is_gable: bool
    seat: float

    @property
    def ahead(self) -> Point2:
        """The unit vector along it."""
        (xa, ya), (xb, yb) = self.start, self.end
        size = abs(xb - xa) + abs(yb - ya)
        return ((xb - xa) / size, (yb - ya) / size)


def walls_below(spec: HouseSpec, level: Level, catalog: Catalog) -> tuple[float, float, float]:
    """The framing depth of the level's thinnest outside wall, how deep the thickest one is from its outer framing face
    inward, and how thick the thickest sheathing is outside of that.

    Of any walls where the level has no outline.
    """
    names = [corner.assembly or outline.assembly for outline in level.outlines for corner in outline.corners]
    names = names or [line.assembly for line in level.walls]
    stacks = [layer_stack(spec.assemblies[name], catalog) for name in dict.fromkeys(names)]
    framing = [layer.thickness for stack in stacks for layer in stack if layer.kind is LayerKind.FRAMING]
    inward = [depth - min(layer.z0 for layer in stack) for depth, stack in zip(framing, stacks, strict=True)]
    outward = [max(layer.z1 for layer in stack) - depth for depth, stack in zip(framing, stacks, strict=True)]
    return min(framing), max(inward), max(outward)


def gable_face(footprint: Sequence[Point2], start: Point2, end: Point2) -> float:
    """The x of the outer framing face of the wall under a rake from `start` to `end`, the plane to its left.

    `footprint` is the outer face of the wall framing all around. It is the x of the rake where no wall is under it.
    """
    step = -1.0 if end[1] < start[1] else 1.0
    own = sorted((start[1], end[1]))
    beyond = [
        step * (start[0] - xa)
        for (xa, ra), (xb, rb) in segments(footprint)
        if abs(xb - xa) < _SAME and (rb - ra) * step > 0.0 and max(own[0], min(ra, rb)) < min(own[1], max(ra, rb))
    ]
    return start[0] - step * min((far for far in beyond if far > -_SAME), default=0.0)


def edges_of(
    roof: RoofSpec, level: Level, bearing: float, rafter: Lumber, share: float, lap: float, hipped: Collection[int] = ()
) -> tuple[Point2, list[FootprintEdge]]:
    """The direction of the first edge, and the edges turned so that it runs along x.

    `bearing` is the depth of the wall framing, `share` the most of a stick's depth that a birdsmouth takes, which
    reaches `lap` (mm) out over the wall's sheathing.
    `hipped` are numbers of gables that count as eaves.
    """
    depth, thickness = rafter.width, rafter.thickness
    corners = roof.corners(level)
    (xa, ya), (xb, yb) = corners[0][1], corners[1][1]
    size = ((xb - xa) ** 2 + (yb - ya) ** 2) ** 0.5
    u, v = (xb - xa) / size, (yb - ya) / size
    turned = _squared([_snapped((x * u + y * v, y * u - x * v)) for _, (x, y) in corners])
    asked = [roof.edge(name) for name, _ in corners]
    tangents = [(edge.rise / edge.run) if edge.rise else roof.rise / roof.run for edge in asked]
    eaves = [n for n, edge in enumerate(asked) if edge.kind == "eave" or n in hipped]
    fall = min(tangents[n] * _overhang(asked[n], roof.overhang) for n in eaves)
    pitches = [Pitch(tangent, depth) for tangent in tangents]
    seats = [min(bearing, _longest_seat(pitch, thickness, share) - lap) for pitch in pitches]
    over_plate = max(pitches[n].depth * pitches[n].secant - seats[n] * tangents[n] for n in eaves)
    edges = []
    for n, ((name, _), edge) in enumerate(zip(corners, asked, strict=True)):
        is_gable = n not in eaves
        edges.append(
            FootprintEdge(
                name,
                turned[n],
                turned[(n + 1) % len(turned)],
                tangents[n],
                _overhang(edge, roof.rake_overhang) if is_gable else fall / tangents[n],
                is_gable,
                (depth * pitches[n].secant - over_plate) / tangents[n],
            )
        )
    return (u, v), edges


def _overhang(edge: RoofEdge, default: float) -> float:
    """The level overhang asked for at an edge; a gable that had to be hipped has none of its own."""
    return default if edge.overhang is None else edge.overhang


def _longest_seat(pitch: Pitch, thickness: float, share: float) -> float:
    """The level seat of a rafter whose birdsmouth, and that of a hip, takes no more than a share of its depth."""
    hip = ((0.0, 0.0), (1.0, 1.0))
    room = room_over(pitch, hip, thickness)
    ahead = pitch.direction((1.0, 1.0))
    level = math.hypot(ahead[0], ahead[1] * pitch.cosine) / ahead[0]
    deepest = share * min(pitch.depth, room.high - room.low)
    return min(share * pitch.depth / pitch.sine, deepest / (level * ahead[1] * pitch.sine))


def _snapped(point: Point2) -> Point2:
    return (round(point[0], 6) + 0.0, round(point[1], 6) + 0.0)


def _squared(points: Sequence[Point2]) -> list[Point2]:
    """Corners of square edges with exactly equal coordinates along each edge; the first edge runs along x."""
    squared = [points[0]]
    for n, (x, y) in enumerate(points[1:]):
        squared.append((x, squared[-1][1]) if n % 2 == 0 else (squared[-1][0], y))
    squared[-1] = (points[0][0], squared[-1][1])
    return squared


def outline_of(edges: Sequence[FootprintEdge]) -> list[OutlineEdge]:
    """The outline of the roof: the edges of the footprint moved out by their overhangs."""
    corners = []
    for before, edge in zip((edges[-1], *edges[:-1]), edges, strict=True):
        x, y = edge.start
        for one in (before, edge):
            ahead = one.ahead
            x, y = x + ahead[1] * one.overhang, y - ahead[0] * one.overhang
        corners.append((x, y))
    ends = (*corners[1:], corners[0])
    return [OutlineEdge(a, b, one.tangent, one.is_gable) for one, a, b in zip(edges, corners, ends, strict=True)]
