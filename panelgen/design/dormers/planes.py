"""The roof planes of a dormer: over its plates as any roof's, ended on the sheathing of the roof that they lie over."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.dormers.shape import Dormer
from panelgen.design.roofs.pitch import Plane
from panelgen.design.roofs.planes import PlaneSide, RoofPlane, planes_of
from panelgen.geometry.frames import Frame, Point2, dot
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Finding
from panelgen.spec import HouseSpec
from panelgen.spec.roofs import RoofCorner, RoofEdge, RoofSpec

__all__ = ["dormer_planes", "place_in"]

_SPARE = 1000.0
"""How far (mm) the planes go on behind the place where they meet the roof below before they are cut off there."""


def dormer_planes(
    spec: HouseSpec, dormer: Dormer, catalog: Catalog, rules: RuleSet
) -> tuple[tuple[RoofPlane, ...], tuple[Finding, ...]]:
    """The planes of a dormer, each ended where the top of its rafters meets the sheathing below; and what is doubtful.

    A shed has to be flatter than the roof that it stands on.
    """
    roof = _roof(spec, dormer, catalog)
    lap = max(layer.z1 for layer in dormer.layers) - dormer.depth
    planes, findings = planes_of(spec, roof, catalog, rules, (dormer.depth, dormer.inward, lap))
    thickness = catalog.stock(spec.assemblies[dormer.spec.assembly].framing.stock).thickness
    bearing = rules.structure.bearings["rafter"].length
    return tuple(_laid(dormer, plane, thickness, bearing) for plane in planes), findings


def _roof(spec: HouseSpec, dormer: Dormer, catalog: Catalog) -> RoofSpec:
    """The roof as it would be if it went on to the back, where it has a gable."""
    asked = dormer.spec
    rafter = catalog.stock(spec.assemblies[asked.assembly].framing.stock).width
    reach = (dormer.right - dormer.left) / 2 + asked.overhang
    over = asked.height + 2 * rafter
    if asked.form == "gable":
        over += dormer.slope * reach + rafter * dormer.slope
        far = dormer.front + over / dormer.steepness + _SPARE
    else:
        far = dormer.front + over / (dormer.steepness - dormer.slope) + _SPARE
    spacing = spec.assemblies[asked.assembly].framing.spacing
    far = dormer.front + math.ceil((far - dormer.front) / spacing) * spacing  # rafters of both slopes meet at the ridge
    corners = (
        ("front", dormer.left, dormer.front),
        ("right", dormer.right, dormer.front),
        ("back", dormer.right, far),
        ("left", dormer.left, far),
    )
    gables = ("front", "back") if asked.form == "gable" else ("right", "back", "left")
    rakes = {"back": 0.0}
    return RoofSpec(
        id=f"{dormer.id}-roof",
        level=dormer.plane.level.id,
        assembly=asked.assembly,
        footprint=tuple(RoofCorner(edge=name, at=dormer.place(x, run)) for name, x, run in corners),
        edges=tuple(RoofEdge(edge=name, kind="gable", overhang=rakes.get(name)) for name in gables),
        plate=dormer.plate,
        rise=asked.rise,
        run=asked.run,
        overhang=asked.overhang,
        rake_overhang=asked.rake_overhang,
    )


def _laid(dormer: Dormer, plane: RoofPlane, thickness: float, bearing: float) -> RoofPlane:
    """A plane ended on the sheathing below; over an airtight roof its room ends at the back wall's inner face.

    Where rafters run along that wall one stands over that face, and carries the end of the inner sheets; else they are
    seated on it over `bearing`, mm.
    """
    main = dormer.plane
    over = _in_frame(main.frame.point(0.0, 0.0, main.pitch.depth + dormer.cover), main.frame, plane.frame)
    laid = replace(plane, over=over, sides=tuple(_ended(plane, over)))
    if not dormer.sealed:
        return laid
    behind = dormer.back - (dormer.inward - dormer.depth)
    room = [
        (dormer.left, dormer.front),
        (dormer.right, dormer.front),
        (dormer.right, behind),
        (dormer.left, behind),
    ]
    ring = tuple(place_in(plane, dormer.place(*corner)) for corner in room)
    if dormer.spec.form == "shed":
        begin, end = (run - dormer.front for run in (behind, dormer.back + bearing))
        return replace(laid, room=ring, seats=((begin, end * dormer.slope),))
    middle, _ = place_in(plane, dormer.place(dormer.left, behind))
    return replace(laid, room=ring, over_walls=(middle - thickness / 2,))


def _in_frame(point: tuple[float, float, float], main: Frame, frame: Frame) -> Plane:
    """The plane through a point of the house along the slope of `main`, in the coordinates of another frame."""
    normal = main.z
    local = (dot(normal, frame.x), dot(normal, frame.y), dot(normal, frame.z))
    return local, dot(normal, point) - dot(normal, frame.origin)


def place_in(plane: RoofPlane, point: Point2) -> Point2:
    """The place in a plane of a point of the plan."""
    (ox, oy, _), (ax, ay, _) = plane.frame.origin, plane.frame.x
    x, y = point[0] - ox, point[1] - oy
    return (x * ax + y * ay, y * ax - x * ay)


def _ended(plane: RoofPlane, over: Plane) -> Iterator[PlaneSide]:
    """The sides of a plane above another one, which the tops of its rafters meet in a side of their own."""
    normal, offset = over
    depth = plane.pitch.depth

    def height(place: Point2) -> float:
        return dot(normal, plane.pitch.point(place, depth)) - offset

    pieces: list[tuple[PlaneSide, bool]] = []
    for side in plane.sides:
        a, b = height(side.start), height(side.end)
        if a < 0.0 and b < 0.0:
            continue
        start, end = side.start, side.end
        if a < 0.0:
            start = _between(side, a / (a - b))
        if b < 0.0:
            end = _between(side, a / (a - b))
        pieces.append((replace(side, start=start, end=end), b < 0.0))
    for number, (side, leaves) in enumerate(pieces):
        yield side
        if leaves:
            following = pieces[(number + 1) % len(pieces)][0]
            yield PlaneSide(side.end, following.start, RoofLine.LAY_OVER, None)


def _between(side: PlaneSide, share: float) -> Point2:
    (xa, ra), (xb, rb) = side.start, side.end
    return xa + share * (xb - xa), ra + share * (rb - ra)
