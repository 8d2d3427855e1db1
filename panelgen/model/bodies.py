"""Members and sheets as bodies: what can be drawn as lofts at once, and what is left to cut."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import Any

import shapely

from panelgen.errors import GeometryError
from panelgen.geometry.fibres import Across, chord_integral, disc
from panelgen.geometry.lofts import Body, Cylinder, HalfSpace, Hole, Loft, Ring
from panelgen.model.bores import MARGIN, centre_at, sort_bores
from panelgen.model.member import Member
from panelgen.model.sections import blank_ring, endless_face, less_notches, section_at
from panelgen.model.sheet import Sheet
from panelgen.model.sticks import Recess, Stick, plane_x, stick_of

__all__ = ["block_body", "member_body", "sheet_body", "stick_body"]

_DUST = 1e-3  # mm3
_DECIMALS = 6


def member_body(member: Member) -> Body:
    """The body of a member in its own coordinates. Equal shapes give the same object.

    Raises GeometryError if cuts, bores or notches leave nothing of the stick.
    """
    return stick_body(stick_of(member))


def block_body(width: float, height: float, depth: float) -> Body:
    """A plain box with one corner at the origin, mm."""
    w, h = round(width, _DECIMALS), round(height, _DECIMALS)
    ring = ((0.0, 0.0), (w, 0.0), (w, h), (0.0, h))
    return Body((Loft((ring,), (ring,), round(depth, _DECIMALS)),))


@lru_cache(maxsize=8192)
def stick_body(stick: Stick) -> Body:
    """The body of a stick; see `member_body`."""
    through, groups = sort_bores(stick)
    holes = tuple(Hole(centre_at(bore, 0.0), centre_at(bore, stick.thickness), bore.radius) for bore in through)
    lofts, trims = ((), ()) if stick.is_empty else _lofts(stick, holes)
    if not lofts:
        raise GeometryError(f"nothing is left of a stick {stick.length:g} x {stick.width:g} x {stick.thickness:g} mm")
    return Body(lofts, _real_cuts(groups, stick), trims)


def _lofts(stick: Stick, holes: tuple[Hole, ...]) -> tuple[tuple[Loft, ...], tuple[HalfSpace, ...]]:
    """The lofts of a stick, and the end planes to which they must still be trimmed."""
    if not stick.notches and not stick.is_pointed:
        near, far = blank_ring(stick, 0.0), blank_ring(stick, stick.thickness)
        return (Loft((near,), (far,), stick.thickness, holes),), ()
    if not stick.is_sloped:
        return _prisms(section_at(stick, 0.0), stick.thickness, holes), ()
    if not stick.is_pointed and _ends_are_clear(stick):
        square = less_notches(shapely.box(0.0, 0.0, stick.length, stick.width), stick)
        return tuple(_leaning(loft, stick) for loft in _prisms(square, stick.thickness, holes)), ()
    return _prisms(endless_face(stick), stick.thickness, holes), stick.half_spaces[:2]


def _ends_are_clear(stick: Stick) -> bool:
    """Whether no side of a notch lies in the stretch that a leaning end takes up."""
    if any(_slants_at_an_end(notch, stick) for notch in stick.notches):
        return False
    sides = [x for notch in stick.notches for x in notch[:2]]
    starts = [x for z in (0.0, stick.thickness) for x, _ in (blank_ring(stick, z)[0], blank_ring(stick, z)[3])]
    ends = [x for z in (0.0, stick.thickness) for x, _ in blank_ring(stick, z)[1:3]]
    return all((x <= 0.0 or x > max(starts) + MARGIN) and (x >= stick.length or x < min(ends) - MARGIN) for x in sides)


def _slants_at_an_end(notch: Recess, stick: Stick) -> bool:
    """Whether a birdsmouth runs out at an end of the stick."""
    return notch.apex is not None and (notch.x0 <= 0.0 or notch.x1 >= stick.length)


def _leaning(loft: Loft, stick: Stick) -> Loft:
    """A loft between square ends, its end points moved to the end planes of the stick."""

    def moved(ring: Ring, z: float) -> Ring:
        ends = {0.0: stick.start, stick.length: stick.end}
        return tuple((plane_x(ends[x], y, z) if x in ends else x, y) for x, y in ring)

    near = tuple(moved(ring, 0.0) for ring in loft.near)
    far = tuple(moved(ring, stick.thickness) for ring in loft.far)
    return Loft(near, far, loft.height, loft.holes)


def _prisms(face: Any, height: float, holes: tuple[Hole, ...]) -> tuple[Loft, ...]:
    """One upright loft for each piece of a face, with the holes whose centres lie in it."""
    pieces = [piece for piece in shapely.get_parts(face) if piece.geom_type == "Polygon" and piece.area > _DUST]
    lofts = []
    for piece in sorted(pieces, key=lambda piece: piece.bounds):
        rings = _rings(shapely.remove_repeated_points(piece, MARGIN))
        own = tuple(hole for hole in holes if len(pieces) == 1 or piece.contains(shapely.Point(hole.near)))
        lofts.append(Loft(rings, rings, height, own))
    return tuple(lofts)


def _rings(polygon: Any) -> tuple[Ring, ...]:
    turned = shapely.geometry.polygon.orient(polygon)
    return tuple(
        tuple((float(x), float(y)) for x, y in ring.coords[:-1]) for ring in (turned.exterior, *turned.interiors)
    )


def _real_cuts(groups: Iterable[tuple[Cylinder, ...]], stick: Stick) -> tuple[tuple[Cylinder, ...], ...]:
    """The groups without the bores that miss the stick."""
    kept = (tuple(bore for bore in group if _bites(bore, stick)) for group in groups)
    return tuple(group for group in kept if group)


def _bites(bore: Cylinder, stick: Stick) -> bool:
    across = Across.to(bore.axis)
    return chord_integral(disc(bore, across), across, stick.half_spaces) > _DUST


def sheet_body(sheet: Sheet) -> Body:
    """The body of a sheet in its own coordinates. Equal shapes give the same object.

    Raises GeometryError if the outline or a cut-out crosses itself, or nothing is left of the sheet.
    """
    places = dict.fromkeys(
        (round(hole.x, _DECIMALS) + 0.0, round(hole.y, _DECIMALS) + 0.0, round(hole.diameter / 2, _DECIMALS))
        for hole in sheet.round_holes
    )
    try:
        return _cut_face(sheet.outline, sheet.cutouts, tuple(places), round(sheet.thickness, _DECIMALS))
    except GeometryError as error:
        raise GeometryError(f"sheet {sheet.id}: {error}") from None


_Round = tuple[float, float, float]
"""Centre and radius of a round hole, mm."""


@lru_cache(maxsize=8192)
def _cut_face(outline: Ring, cutouts: tuple[Ring, ...], round_holes: tuple[_Round, ...], thickness: float) -> Body:
    face = _area(outline)
    if cutouts:
        face = face.difference(shapely.union_all([_area(ring) for ring in cutouts]))
    clean, doubtful = _sorted_round_holes(round_holes, face)
    lofts = _prisms(face, thickness, clean)
    if not lofts:
        raise GeometryError("nothing is left of it")
    return Body(lofts, (doubtful,) if doubtful else ())


def _area(ring: Ring) -> Any:
    area = shapely.Polygon([(round(x, _DECIMALS) + 0.0, round(y, _DECIMALS) + 0.0) for x, y in ring])
    if not area.is_valid or area.is_empty:
        raise GeometryError("an outline or a cut-out crosses itself or has no area")
    return area


def _sorted_round_holes(places: tuple[_Round, ...], face: Any) -> tuple[tuple[Hole, ...], tuple[Cylinder, ...]]:
    """Round cut-outs inside the face and apart from one another, and those that bite an edge or each other."""
    clean: list[Hole] = []
    doubtful: list[Cylinder] = []
    for x, y, radius in places:
        centre = shapely.Point(x, y)
        edge = face.boundary.distance(centre)
        others = (
            ((x - u) ** 2 + (y - v) ** 2) ** 0.5 - radius - r for u, v, r in places if (u, v, r) != (x, y, radius)
        )
        if face.contains(centre) and edge > radius + MARGIN and min(others, default=MARGIN) >= MARGIN:
            clean.append(Hole((x, y), (x, y), radius))
        elif face.contains(centre) or edge < radius:
            doubtful.append(Cylinder((x, y, 0.0), (0.0, 0.0, 1.0), radius))
    return tuple(clean), tuple(doubtful)
