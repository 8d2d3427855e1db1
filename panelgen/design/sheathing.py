"""Sheathing: real sheets cut from stock, upright, with joints on the framing and cut-outs at openings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot
from typing import Literal

import shapely

from panelgen.catalog import SheetProduct
from panelgen.design.brief import PanelBrief, Span
from panelgen.design.faces import face_ring, lower_than, top_line
from panelgen.design.intervals import overlap, subtract
from panelgen.design.sheet_joints import (
    Backing,
    Bearing,
    JointLine,
    Row,
    Stick,
    choose_joints,
    joint_lines,
    rows,
    sticks_of,
)
from panelgen.design.tops import slopes
from panelgen.geometry.frames import Frame, Point2
from panelgen.model import Finding, Layer, LayerKind, Member, RoundHole, Severity, Sheet, Sleeve, Why

__all__ = ["Side", "joint_heights", "sheets"]

Side = Literal["outer", "inner"]

_SIDES: tuple[Side, ...] = ("outer", "inner")

_EPS = 1e-6
_PRACTICE = "common practice, no source"
_LEAST_PIECE = 25.0
"""Pieces narrower than this (mm) take no nail and are left out; common practice, no source."""

_Ring = tuple[Point2, ...]

_WHY = Why("sheet.layout", "upright stock sheet, joints on studs and staggered, fewest sheets", _PRACTICE)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A run of neighbouring sheets in one row: its span and the vertical joints in it."""

    row: Row
    number: int
    span: Span
    joints: tuple[JointLine, ...]


@dataclass(frozen=True, slots=True)
class _Cell:
    """The place of one sheet before the panel's outline and openings are cut from it, gaps taken off."""

    id: str
    x0: float
    x1: float
    y0: float
    y1: float


def joint_heights(brief: PanelBrief, side: Side) -> tuple[float, ...]:
    """Heights (panel y, mm) of the horizontal joints of one face; empty where its sheets reach the top."""
    face = _face(brief, side)
    if face is None:
        return ()
    return tuple(row.y0 for row in rows(brief.height, brief.catalog.sheet(face.product).sizes)[1:])


def sheets(
    brief: PanelBrief, members: Sequence[Member], sleeves: Sequence[Sleeve]
) -> tuple[tuple[Sheet, ...], tuple[Finding, ...]]:
    """The sheets of both faces, outer ones first, bottom row first, left to right; and what is not as it should be.

    Sheets cover a face from the floor to the top over the layer's span, less the rough openings and
    the gap at every joint; where the wall goes on in another panel, half the gap is left at that end.
    The inner layer's joints keep off the outer one's where they can. Each sleeve gets its hole.
    """
    framing = next(layer for layer in brief.layers if layer.kind is LayerKind.FRAMING)
    sticks = sticks_of(members, framing)
    placed: list[Sheet] = []
    findings: list[Finding] = []
    others: list[_Stretch] = []
    for side in _SIDES:
        face = _face(brief, side)
        if face is not None:
            stretches = _stretches(brief, sticks, face, others)
            cut, faults = _one_face(brief, face, side, stretches, sleeves)
            placed += cut
            findings += faults
            others += stretches
    return tuple(placed), tuple(findings)


def _one_face(
    brief: PanelBrief, face: Layer, side: Side, stretches: Sequence[_Stretch], sleeves: Sequence[Sleeve]
) -> tuple[list[Sheet], list[Finding]]:
    product = brief.catalog.sheet(face.product)
    placed: list[Sheet] = []
    findings = [
        _unbacked(brief, face, joint) for one in stretches for joint in one.joints if joint.backing is Backing.BARE
    ]
    for cell in _cells(brief, face, side, stretches):
        for number, (outline, *cutouts) in enumerate(_cut(brief, cell)):
            name = f"{cell.id}{chr(ord('a') + number - 1) if number else ''}"
            sheet = _sheet(name, face, product, outline, cutouts)
            if sheet is None:
                findings.append(_sliver(brief, face, name, outline))
            else:
                placed.append(sheet)
    for sleeve in sleeves:
        index = next((n for n, sheet in enumerate(placed) if _holds(sheet, sleeve)), None)
        if index is None:
            findings.append(_on_joint(brief, face, sleeve))
        else:
            placed[index] = _pierced(placed[index], sleeve)
    return placed, findings


def _face(brief: PanelBrief, side: Side) -> Layer | None:
    for layer in brief.layers:
        if layer.kind is LayerKind.SHEATHING and (layer.z0 > 0.0) is (side == "outer"):
            return layer
    return None


def _gap(brief: PanelBrief, face: Layer) -> float:
    spec = brief.assembly.outer_sheathing if face.z0 > 0.0 else brief.assembly.inner_sheathing
    return 0.0 if spec is None else spec.gap


def _span(brief: PanelBrief, face: Layer) -> Span:
    return brief.outer_span if face.z0 > 0.0 else brief.inner_span


def _trims(brief: PanelBrief, face: Layer, stretch: Span) -> tuple[float, float, float]:
    """What sheets lose to the gap at the left end of a stretch, at each side of a joint, and at the right end."""
    half = _gap(brief, face) / 2
    lo, hi = _span(brief, face)
    left = half if brief.joined[0] and stretch[0] <= lo + _EPS else 0.0
    right = half if brief.joined[1] and stretch[1] >= hi - _EPS else 0.0
    return left, half, right


def _stretches(brief: PanelBrief, sticks: Sequence[Stick], face: Layer, others: Sequence[_Stretch]) -> list[_Stretch]:
    """The rows of one face with their joints, which keep off those of `others` and of the row below."""
    half = _gap(brief, face) / 2
    bearing = _bearing(brief, half)
    whole = _span(brief, face)
    placed: list[_Stretch] = []
    for number, row in enumerate(rows(brief.height, brief.catalog.sheet(face.product).sizes)):
        near = [one for one in placed if one.number == number - 1]
        near += [one for one in others if overlap((one.row.y0, one.row.y1), (row.y0, row.y1)) > 0]
        avoid = [joint.x for one in near for joint in one.joints]
        for span in subtract(whole, lower_than(brief, row.y0 + half, whole) if number else ()):
            lines = joint_lines(brief, sticks, face.z0 > 0.0, row, span, bearing)
            trims = _trims(brief, face, span)
            joints = choose_joints(lines, span, row.widest, trims, avoid, brief.assembly.framing.spacing / 2)
            placed.append(_Stretch(row, number, span, tuple(joints)))
    return placed


def _cells(brief: PanelBrief, face: Layer, side: Side, stretches: Sequence[_Stretch]) -> Iterator[_Cell]:
    top = stretches[-1].number
    for stretch in stretches:
        left, half, right = _trims(brief, face, stretch.span)
        bounds = (stretch.span[0], *(joint.x for joint in stretch.joints), stretch.span[1])
        last = len(bounds) - 2
        for n, (x0, x1) in enumerate(pairwise(bounds)):
            yield _Cell(
                f"{brief.wall.id}/{side}-sheet-{stretch.number + 1}@{round(brief.wall_start + x0)}",
                x0 + (half if n else left),
                x1 - (half if n < last else right),
                stretch.row.y0 + (half if stretch.number else 0.0),
                stretch.row.y1 - (half if stretch.number < top else 0.0),
            )


def _cut(brief: PanelBrief, cell: _Cell) -> list[list[_Ring]]:
    """The pieces left of a cell inside the panel's outline and outside its openings, low and left ones first.

    Each piece is its outline, counter-clockwise, and its cut-outs, in panel coordinates.
    """
    holes = [
        hole
        for hole in brief.openings
        if min(hole.x1, cell.x1) - max(hole.x0, cell.x0) > _EPS and min(hole.y1, cell.y1) - max(hole.y0, cell.y0) > _EPS
    ]
    under_the_top = min(y for _, y in top_line(brief, (cell.x0, cell.x1))) >= cell.y1 - _EPS
    if under_the_top and not holes:
        return [[((cell.x0, cell.y0), (cell.x1, cell.y0), (cell.x1, cell.y1), (cell.x0, cell.y1))]]
    shape = shapely.box(cell.x0, cell.y0, cell.x1, cell.y1)
    if not under_the_top:
        shape &= shapely.Polygon(face_ring(brief, (cell.x0, cell.x1)))
    for hole in holes:
        shape -= shapely.box(hole.x0, hole.y0, hole.x1, hole.y1)
    pieces = [shapely.geometry.polygon.orient(piece) for piece in shapely.get_parts(shape.simplify(0.0))]
    pieces = [piece for piece in pieces if piece.area > _EPS]
    pieces.sort(key=lambda piece: (piece.bounds[1], piece.bounds[0]))
    return [[tuple(ring.coords[:-1]) for ring in (piece.exterior, *piece.interiors)] for piece in pieces]


def _sheet(id: str, face: Layer, product: SheetProduct, outline: _Ring, cutouts: Sequence[_Ring]) -> Sheet | None:
    """The sheet for one piece, from the least stock that holds it; None where it is too narrow to nail."""
    x0, y0, width, height = _extent(outline)
    if min(width, height) < _LEAST_PIECE:
        return None
    fitting = [size for size in product.sizes if size[0] >= width - _EPS and size[1] >= height - _EPS]
    return Sheet(
        id,
        face.name,
        product.name,
        min(fitting, key=lambda size: (size[0] * size[1], size)),
        product.thickness,
        product.density,
        _in_sheet(outline, x0, y0),
        Frame((x0, y0, face.z0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
        _WHY,
        tuple(sorted(_in_sheet(ring, x0, y0) for ring in cutouts)),
    )


def _extent(ring: _Ring) -> tuple[float, float, float, float]:
    """Least x and y, width and height."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)


def _in_sheet(ring: _Ring, x0: float, y0: float) -> _Ring:
    """A ring in the sheet's coordinates, begun at its lowest, then leftmost point: equal pieces get equal rings."""
    start = min(range(len(ring)), key=lambda i: (ring[i][1], ring[i][0]))
    return tuple((x - x0, y - y0) for x, y in (*ring[start:], *ring[:start]))


def _holds(sheet: Sheet, sleeve: Sleeve) -> bool:
    """True where a sleeve's whole hole lies on a sheet."""
    point = shapely.Point(sleeve.x - sheet.frame.origin[0], sleeve.y - sheet.frame.origin[1])
    shape = shapely.Polygon(sheet.outline, sheet.cutouts)
    return bool(shape.contains(point)) and bool(shape.boundary.distance(point) > sleeve.diameter / 2)


def _pierced(sheet: Sheet, sleeve: Sleeve) -> Sheet:
    x, y, _ = sheet.frame.origin
    hole = RoundHole(sleeve.x - x, sleeve.y - y, sleeve.diameter, sleeve.id)
    return replace(sheet, round_holes=(*sheet.round_holes, hole))


def _bearing(brief: PanelBrief, half_gap: float) -> Bearing:
    """What the nailing schedule asks behind a joint: room for nails at their edge distance, spaced as at an edge."""
    schedule = brief.catalog.rules(brief.rules).sheet_nailings
    framing = brief.assembly.framing
    plates = framing.top_plates * brief.catalog.stock(framing.stock).thickness
    steepest = max(hypot(1.0, slope.tangent) for slope in slopes(brief))
    return Bearing(
        half_gap + max(row.edge_distance for row in schedule),
        min(row.edge_spacing for row in schedule),
        plates * steepest,
    )


def _unbacked(brief: PanelBrief, face: Layer, joint: JointLine) -> Finding:
    lo, hi = joint.bare
    schedule = brief.catalog.rules(brief.rules).sheet_nailings
    closest = min(schedule, key=lambda row: row.edge_spacing)
    return Finding(
        "sheet.joint-unbacked",
        Severity.WARN,
        f"a vertical joint of the {face.name} has no wood behind it for {hi - lo:.0f} mm, more than its nails are "
        "spaced: add a stud, a cripple or packing there",
        brief.label,
        point=(joint.x, (lo + hi) / 2, face.z0),
        value=hi - lo,
        limit=closest.edge_spacing,
        source=closest.cited,
    )


def _sliver(brief: PanelBrief, face: Layer, id: str, outline: _Ring) -> Finding:
    x0, y0, width, height = _extent(outline)
    return Finding(
        "sheet.sliver",
        Severity.NOTE,
        f"a piece of the {face.name} would be {min(width, height):.0f} mm wide and is left out",
        brief.label,
        (id,),
        (x0 + width / 2, y0 + height / 2, face.z0),
        value=min(width, height),
        limit=_LEAST_PIECE,
        source=_PRACTICE,
    )


def _on_joint(brief: PanelBrief, face: Layer, sleeve: Sleeve) -> Finding:
    return Finding(
        "sheet.sleeve",
        Severity.WARN,
        f"sleeve {sleeve.id} does not fall within one sheet of the {face.name}, so it cannot be sealed: move it",
        brief.label,
        (sleeve.id,),
        (sleeve.x, sleeve.y, face.z0),
        source="spec sleeves",
    )
