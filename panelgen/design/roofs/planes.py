"""The planes of a roof in the house: where each lies, its outline in plan, and how its rafters sit on the plate.

Roof surfaces meet at the tops of the rafters. Over each eave the rafters rise from a seat on the plate; all
seats are cut so that the tops are equally high over the outer face of the wall framing, whatever the slope.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.roofs.footprint import FootprintEdge, edges_of, outline_of, walls_below
from panelgen.design.roofs.pitch import Pitch, Plane
from panelgen.design.roofs.upper_seats import UpperSeat, upper_seats
from panelgen.geometry.frames import Frame, Point2
from panelgen.geometry.roof_planes import RoofFace, RoofLine, roof_faces
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
    `seat` is the level length of the seat of a birdsmouth, `bearing` the depth of the wall framing under it,
    `inner` the run of the wall's face in the room, and `lap` how thick its sheathing is outside.
    `sides` go around counter-clockwise; `footprint` is the outer face of the wall framing all around.
    A plane that lies over another roof ends in the plane `over` of its sheathing, in the coordinates of `frame`, whose
    normal points up. Inner sheets and insulation are over the ring `room` only; anywhere where it is empty.
    `over_walls` are where the left faces of rafters are that stand over walls across the plane, by x. `seats` are other
    walls on which rafters are seated: the run at which each begins, and the height of its plate in `Pitch.height`.
    `upper` are the seats of rafters on walls at high edges.
    """

    id: str
    edge: str
    roof: RoofSpec
    level: Level
    frame: Frame
    pitch: Pitch
    seat: float
    bearing: float
    inner: float
    lap: float
    sides: tuple[PlaneSide, ...]
    footprint: tuple[Point2, ...]
    over: Plane | None = None
    room: tuple[Point2, ...] = ()
    over_walls: tuple[float, ...] = ()
    seats: tuple[tuple[float, float], ...] = ()
    upper: tuple[UpperSeat, ...] = ()


def planes_of(
    spec: HouseSpec,
    roof: RoofSpec,
    catalog: Catalog,
    rules: RuleSet,
    walls: tuple[float, float, float] | None = None,
) -> tuple[tuple[RoofPlane, ...], tuple[Finding, ...]]:
    """The planes of a roof in the order of its edges, and what is doubtful about them.

    `walls` are those that it stands on, as `walls_below` tells of them; by default those of its level.
    Raises GeometryError where a part of the roof has no eave.
    """
    level = next(level for level in spec.levels if level.id == roof.level)
    rafter = catalog.stock(spec.assemblies[roof.assembly].framing.stock)
    depth = rafter.width
    bearing, inner, lap = walls or walls_below(spec, level, catalog)
    hipped: set[int] = set()
    while True:
        turn, edges = edges_of(roof, level, bearing, rafter, rules.joist.end_notch_depth, lap, hipped)
        faces = roof_faces(outline_of(edges))
        open_gables = {face.edge for face in faces if edges[face.edge].is_gable}
        if not open_gables:
            break
        hipped |= open_gables
    names = _names(roof, [edges[face.edge] for face in faces])
    planes = [
        _seated(
            _plane(roof, level, edges, face, names, number, roof.seat, depth, (bearing, inner, lap), turn), edges, rules
        )
        for number, face in enumerate(faces)
    ]
    return tuple(planes), tuple(_doubts(planes, rules, [edges[number].name for number in sorted(hipped)]))


def _names(roof: RoofSpec, edges: Sequence[FootprintEdge]) -> list[str]:
    """The id of the plane over each edge."""
    seen: dict[str, int] = {}
    names = []
    for edge in edges:
        seen[edge.name] = seen.get(edge.name, 0) + 1
        names.append(roof.plane(edge.name, seen[edge.name]))
    return names


def _plane(
    roof: RoofSpec,
    level: Level,
    edges: Sequence[FootprintEdge],
    face: RoofFace,
    names: Sequence[str],
    number: int,
    plate: float,
    depth: float,
    wall: tuple[float, float, float],
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
    footprint = tuple(place(one.start) for one in edges)
    return RoofPlane(names[number], edge.name, roof, level, frame, pitch, edge.seat, *wall, sides, footprint)


def _seated(plane: RoofPlane, edges: Sequence[FootprintEdge], rules: RuleSet) -> RoofPlane:
    """The same with the seats of its rafters on walls at its high edges that are as high as the roof asks."""
    follow = {
        corner.wall
        for outline in plane.level.outlines
        for corner in outline.corners
        if outline.closed and corner.gable is None and corner.height is None
    }
    sides = [(side.start, side.end, side.line) for side in plane.sides]
    footprint = [
        (corner, edge.is_gable and edge.name in follow) for corner, edge in zip(plane.footprint, edges, strict=True)
    ]
    walls = (plane.bearing, plane.inner)
    least, share = rules.structure.bearings["rafter"].length, rules.joist.end_notch_depth
    return replace(plane, upper=tuple(upper_seats(plane.pitch, sides, footprint, walls, least, share)))


def _doubts(planes: Sequence[RoofPlane], rules: RuleSet, hipped: Sequence[str]) -> Iterator[Finding]:
    """Gables that had to be hipped, and seats too short to bear on."""
    least = rules.structure.bearings["rafter"]
    for plane in planes:
        if plane.edge in hipped:
            yield Finding(
                "roof.gable-hipped",
                Severity.WARN,
                f"edge {plane.edge} closes no whole side of the roof, so a plane rises from it: split the roof, or "
                "make the edge an eave",
                parts=(plane.id,),
                house_point=plane.frame.origin,
                source="spec roofs.edges",
            )
        if plane.seat < least.length - _SAME:
            yield Finding(
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
