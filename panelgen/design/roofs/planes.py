"""The planes of a roof in the house: where each lies, its outline in plan, and how its rafters sit on the plate.

Roof surfaces meet at the tops of the rafters. Over each eave the rafters rise from a seat on the plate; all
seats are cut so that the tops are equally high over the outer face of the wall framing, whatever the slope.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from panelgen.catalog import Catalog, Lumber, RuleSet
from panelgen.design.roofs.boards import room_over
from panelgen.design.roofs.pitch import Pitch
from panelgen.geometry.frames import Frame, Point2
from panelgen.geometry.roof_planes import OutlineEdge, RoofFace, RoofLine, roof_faces
from panelgen.model import Finding, Severity
from panelgen.spec import HouseSpec
from panelgen.spec.roofs import RoofSpec
from panelgen.spec.walls import Level

__all__ = ["PlaneSide", "RoofPlane", "planes_of"]

_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class PlaneSide:
    """A side of a plane, the plane to its left; `beyond` is the id of the plane that it meets there, if any."""

    start: Point2
    end: Point2
    line: RoofLine
    beyond: str | None


@dataclass(frozen=True, slots=True)
class RoofPlane:
    """One plane. Places are (x along the edge from its start, run inward from the wall's outer framing face), mm.

    `frame` has its origin where the plumb line at the edge's start meets the underside of the rafters.
    `seat` is the level length of the seat of a birdsmouth, `bearing` the depth of the wall framing under it.
    `sides` go around counter-clockwise; `footprint` is the outer face of the wall framing all around.
    """

    id: str
    edge: str
    roof: RoofSpec
    level: Level
    frame: Frame
    pitch: Pitch
    seat: float
    bearing: float
    edge_length: float
    sides: tuple[PlaneSide, ...]
    footprint: tuple[Point2, ...]


@dataclass(frozen=True, slots=True)
class _Edge:
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


def planes_of(
    spec: HouseSpec, roof: RoofSpec, catalog: Catalog, rules: RuleSet
) -> tuple[tuple[RoofPlane, ...], tuple[Finding, ...]]:
    """The planes of a roof in the order of its edges, and what is doubtful about them.

    Raises GeometryError where a part of the roof has no eave.
    """
    level = next(level for level in spec.levels if level.id == roof.level)
    rafter = catalog.stock(spec.assemblies[roof.assembly].framing.stock)
    depth = rafter.width
    bearing = _bearing(spec, level, catalog)
    turn, edges = _footprint(roof, level, bearing, rafter, rules.joist.end_notch_depth)
    outline = [
        OutlineEdge(a, b, edge.tangent, edge.is_gable) for edge, (a, b) in zip(edges, _outline(edges), strict=True)
    ]
    faces = roof_faces(outline)
    names = _names(roof, [edges[face.edge] for face in faces])
    plate = level.elevation + level.height if roof.plate is None else roof.plate
    planes = [
        _plane(roof, level, edges, face, names, number, plate, depth, bearing, turn)
        for number, face in enumerate(faces)
    ]
    return tuple(planes), tuple(_doubts(planes, edges, faces, rules))


def _bearing(spec: HouseSpec, level: Level, catalog: Catalog) -> float:
    """The framing depth of the level's thinnest outside wall, or of any wall where it has no outline."""
    names = [corner.assembly or outline.assembly for outline in level.outlines for corner in outline.corners]
    names = names or [line.assembly for line in level.walls]
    return min(catalog.stock(spec.assemblies[name].framing.stock).width for name in names)


def _footprint(
    roof: RoofSpec, level: Level, bearing: float, rafter: Lumber, share: float
) -> tuple[Point2, list[_Edge]]:
    """The direction of the first edge, and the edges turned so that it runs along x."""
    depth, thickness = rafter.width, rafter.thickness
    corners = roof.corners(level)
    (xa, ya), (xb, yb) = corners[0][1], corners[1][1]
    size = ((xb - xa) ** 2 + (yb - ya) ** 2) ** 0.5
    u, v = (xb - xa) / size, (yb - ya) / size
    turned = _squared([_snapped((x * u + y * v, y * u - x * v)) for _, (x, y) in corners])
    asked = [roof.edge(name) for name, _ in corners]
    tangents = [(edge.rise / edge.run) if edge.rise else roof.rise / roof.run for edge in asked]
    eaves = [n for n, edge in enumerate(asked) if edge.kind == "eave"]
    fall = min(tangents[n] * (roof.overhang if (own := asked[n].overhang) is None else own) for n in eaves)
    pitches = [Pitch(tangent, depth) for tangent in tangents]
    seats = [min(bearing, _longest_seat(pitch, thickness, share)) for pitch in pitches]
    over_plate = max(pitches[n].depth * pitches[n].secant - seats[n] * tangents[n] for n in eaves)
    edges = []
    for n, ((name, _), edge) in enumerate(zip(corners, asked, strict=True)):
        is_gable = edge.kind == "gable"
        rake = roof.rake_overhang if edge.overhang is None else edge.overhang
        edges.append(
            _Edge(
                name,
                turned[n],
                turned[(n + 1) % len(turned)],
                tangents[n],
                rake if is_gable else fall / tangents[n],
                is_gable,
                (depth * pitches[n].secant - over_plate) / tangents[n],
            )
        )
    return (u, v), edges


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


def _outline(edges: Sequence[_Edge]) -> list[tuple[Point2, Point2]]:
    """The edges of the roof's outline: those of the footprint moved out by their overhangs."""
    corners = []
    for before, edge in zip((edges[-1], *edges[:-1]), edges, strict=True):
        x, y = edge.start
        for one in (before, edge):
            ahead = one.ahead
            x, y = x + ahead[1] * one.overhang, y - ahead[0] * one.overhang
        corners.append((x, y))
    return list(zip(corners, (*corners[1:], corners[0]), strict=True))


def _names(roof: RoofSpec, edges: Sequence[_Edge]) -> list[str]:
    """``R1-2S``; a second plane over the same edge is ``R1-2S.2``."""
    seen: dict[str, int] = {}
    names = []
    for edge in edges:
        seen[edge.name] = seen.get(edge.name, 0) + 1
        names.append(f"{roof.id}-{edge.name}" + (f".{seen[edge.name]}" if seen[edge.name] > 1 else ""))
    return names


def _plane(
    roof: RoofSpec,
    level: Level,
    edges: Sequence[_Edge],
    face: RoofFace,
    names: Sequence[str],
    number: int,
    plate: float,
    depth: float,
    bearing: float,
    turn: Point2,
) -> RoofPlane:
    edge = edges[face.edge]
    pitch = Pitch(face.slope, depth)
    (dx, dy), (x0, y0) = edge.ahead, edge.start

    def place(point: Point2) -> Point2:
        x, y = point[0] - x0, point[1] - y0
        return (x * dx + y * dy, y * dx - x * dy)

    def turned(x: float, y: float) -> Point2:
        return (x * turn[0] - y * turn[1], x * turn[1] + y * turn[0])

    ahead, uphill, origin = turned(dx, dy), turned(-dy, dx), turned(x0, y0)
    frame = Frame(
        (*origin, plate - edge.seat * face.slope),
        (*ahead, 0.0),
        (uphill[0] * pitch.cosine, uphill[1] * pitch.cosine, pitch.sine),
    )
    sides = tuple(
        PlaneSide(place(side.start), place(side.end), side.line, None if side.other is None else names[side.other])
        for side in face.sides
    )
    length = sum(abs(b - a) for a, b in zip(edge.start, edge.end, strict=True))
    footprint = tuple(place(one.start) for one in edges)
    return RoofPlane(names[number], edge.name, roof, level, frame, pitch, edge.seat, bearing, length, sides, footprint)


def _doubts(
    planes: Sequence[RoofPlane], edges: Sequence[_Edge], faces: Sequence[RoofFace], rules: RuleSet
) -> list[Finding]:
    """Gables that had to be hipped, and seats too short to bear on."""
    findings = []
    least = rules.structure.bearings["rafter"]
    for plane, face in zip(planes, faces, strict=True):
        edge = edges[face.edge]
        if edge.is_gable:
            findings.append(
                Finding(
                    "roof.gable-hipped",
                    Severity.WARN,
                    f"edge {edge.name} closes no whole side of the roof, so a plane rises from it: split the roof, or "
                    "make the edge an eave",
                    parts=(plane.id,),
                    house_point=plane.frame.origin,
                    source="spec roofs.edges",
                )
            )
        elif plane.seat < least.length - _SAME:
            findings.append(
                Finding(
                    "roof.seat",
                    Severity.WARN,
                    f"rafters of plane {plane.id} have too short a seat, since steeper or flatter planes meet them: "
                    "pack the plate up, or change a slope",
                    parts=(plane.id,),
                    house_point=plane.frame.origin,
                    value=plane.seat,
                    limit=least.length,
                    source=least.cited,
                )
            )
    return findings
