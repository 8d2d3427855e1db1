"""Sheets cut from stock: the pieces of a face, less openings, and the holes of sleeves in them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import hypot

import shapely

from panelgen.catalog import SheetProduct
from panelgen.design.brief import PanelBrief
from panelgen.design.framing.tops import slopes
from panelgen.design.sheathing.faces import face_ring, top_line
from panelgen.design.sheathing.joints import Bearing, JointLine
from panelgen.design.sheathing.piercing import pierce
from panelgen.geometry.frames import Frame, Point2
from panelgen.model import Finding, Layer, Severity, Sheet, Sleeve, Why

__all__ = ["LEAST_PIECE", "Cell", "bearing_of", "cut_sheets", "least_stock", "pieces_of", "unbacked"]

_EPS = 1e-6
_PRACTICE = "common practice, no source"
LEAST_PIECE = 25.0
"""Pieces narrower than this (mm) take no nail and are left out; common practice, no source."""

_Ring = tuple[Point2, ...]
_Size = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Cell:
    """The place of one sheet before the panel's outline and openings are cut from it, gaps taken off."""

    id: str
    x0: float
    x1: float
    y0: float
    y1: float
    loose: bool = False


def cut_sheets(
    brief: PanelBrief,
    face: Layer,
    cells: Iterable[Cell],
    sizes: Sequence[_Size],
    why: Why,
    sleeves: Sequence[Sleeve] = (),
) -> tuple[list[Sheet], list[Finding]]:
    """The sheets of some cells, what is too narrow left out; each sleeve gets its hole, or a finding.

    `sizes` are those of the stock as it lies on the face, (along x, up y).
    """
    product = brief.catalog.sheet(face.product)
    placed: list[Sheet] = []
    findings: list[Finding] = []
    for cell in cells:
        for number, (outline, *cutouts) in enumerate(pieces_of(brief, cell)):
            name = f"{cell.id}{chr(ord('a') + number - 1) if number else ''}"
            sheet = _sheet(name, face, product, sizes, why, outline, cutouts)
            if sheet is None:
                findings.append(_sliver(brief, face, name, outline))
            else:
                placed.append(replace(sheet, loose=True) if cell.loose else sheet)
    findings += pierce(brief.label, face, placed, sleeves)
    return placed, findings


def pieces_of(brief: PanelBrief, cell: Cell) -> list[list[_Ring]]:
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


def _sheet(
    id: str,
    face: Layer,
    product: SheetProduct,
    sizes: Sequence[_Size],
    why: Why,
    outline: _Ring,
    cutouts: Sequence[_Ring],
) -> Sheet | None:
    """The sheet for one piece, from the least stock that holds it; None where it is too narrow to nail."""
    x0, y0, width, height = _extent(outline)
    if min(width, height) < LEAST_PIECE:
        return None
    return Sheet(
        id,
        face.name,
        product.name,
        least_stock(sizes, width, height),
        product.thickness,
        product.density,
        _in_sheet(outline, x0, y0),
        Frame((x0, y0, face.z0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
        why,
        tuple(sorted(_in_sheet(ring, x0, y0) for ring in cutouts)),
    )


def least_stock(sizes: Sequence[_Size], width: float, height: float) -> _Size:
    """The smallest stock sheet that holds a piece, mm. Raises ValueError where none does."""
    fitting = [size for size in sizes if size[0] >= width - _EPS and size[1] >= height - _EPS]
    return min(fitting, key=lambda size: (size[0] * size[1], size))


def _extent(ring: _Ring) -> tuple[float, float, float, float]:
    """Least x and y, width and height."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)


def _in_sheet(ring: _Ring, x0: float, y0: float) -> _Ring:
    """A ring in the sheet's coordinates, begun at its lowest, then leftmost point: equal pieces get equal rings."""
    start = min(range(len(ring)), key=lambda i: (ring[i][1], ring[i][0]))
    return tuple((x - x0, y - y0) for x, y in (*ring[start:], *ring[:start]))


def bearing_of(brief: PanelBrief, half_gap: float) -> Bearing:
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


def unbacked(brief: PanelBrief, face: Layer, joint: JointLine) -> Finding:
    """What is said of a joint with too little wood behind it."""
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
        limit=LEAST_PIECE,
        source=_PRACTICE,
    )
