"""The parts of a panel as they are seen square to it: flat areas in panel (x, y), mm."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from panelgen.drawing.looks import Look
from panelgen.geometry.frames import Floats
from panelgen.geometry.mitres import Tube
from panelgen.model import Bore, Box, Member, Panel, Role, Sheet
from panelgen.model.groups import PartGroup, layer_groups
from panelgen.model.pieces import Piece, fitting_pieces, run_pieces

__all__ = ["Silhouette", "silhouettes"]

_END_ON = 1e-3
_ARC = 6


@dataclass(frozen=True, slots=True)
class Silhouette:
    """A part by its id and its mark, and the shapely area it covers. Stretches of a run have the run's id."""

    id: str
    mark: str
    look: Look
    area: Any


def silhouettes(panel: Panel, nails: Collection[str] = ()) -> tuple[Silhouette, ...]:
    """The parts of a panel from back to front, as a picture that looks through the sheets is drawn.

    Of the rows of nails only those with an id in `nails` are there, each as the spots of its heads.
    """
    return (
        *_framing(panel),
        *_openings(panel),
        *_sheets(panel),
        *_straps(panel),
        *_services(panel),
        *_nails(panel, nails),
    )


def _framing(panel: Panel) -> Iterator[Silhouette]:
    sticks = [member for member in panel.members if member.role is not Role.STRAP]
    outlines = [_outline(member.corners()) for member in sticks]
    for member, outline in zip(sticks, outlines, strict=True):
        yield Silhouette(member.id, member.mark, Look.MEMBER, outline)
    for member, outline in zip(sticks, outlines, strict=True):
        for bore in member.bores:
            yield Silhouette("", "", Look.BORE, _bore(member, bore).intersection(outline))


def _openings(panel: Panel) -> Iterator[Silhouette]:
    for one in panel.openings:
        yield Silhouette(one.id, one.id, Look.OPENING, shapely.box(one.x0, one.y0, one.x1, one.y1))


def _sheets(panel: Panel) -> Iterator[Silhouette]:
    groups = layer_groups(panel)
    for sheet in panel.sheets:
        look = Look.OUTER if groups[sheet.layer] is PartGroup.OUTER_SHEATHING else Look.INNER
        yield Silhouette(sheet.id, sheet.mark, look, _sheet(sheet))


def _straps(panel: Panel) -> Iterator[Silhouette]:
    for member in panel.members:
        if member.role is Role.STRAP:
            yield Silhouette(member.id, member.mark, Look.STRAP, _outline(member.corners()))


def _services(panel: Panel) -> Iterator[Silhouette]:
    for run in panel.runs:
        yield Silhouette(run.run, run.run, Look.RUN, _pieces(run_pieces(run)))
    for fitting in panel.fittings:
        yield Silhouette(fitting.run, "", Look.RUN, _pieces(fitting_pieces(fitting)))
    for box in panel.boxes:
        yield Silhouette(box.id, box.id, Look.BOX, _box(box))
    for sleeve in panel.sleeves:
        ring = shapely.Point(sleeve.x, sleeve.y).buffer(sleeve.diameter / 2, quad_segs=_ARC)
        yield Silhouette(sleeve.id, sleeve.id, Look.SLEEVE, ring)


def _nails(panel: Panel, wanted: Collection[str]) -> Iterator[Silhouette]:
    """Heads drawn twice as wide as the shank, as they are."""
    for nails in panel.fasteners:
        if nails.id in wanted:
            heads = shapely.multipoints(nails.points[:, :2]).buffer(nails.shank, quad_segs=2)
            yield Silhouette(nails.id, nails.product, Look.NAIL, heads)


def _outline(points: Floats) -> Any:
    return shapely.convex_hull(shapely.multipoints(points[:, :2]))


def _bore(member: Member, bore: Bore) -> Any:
    """The hole as a band through the stick, or a disc where it is seen end on."""
    reach = member.length + member.width + member.thickness
    axis = np.array(bore.axis)
    ends = member.frame.to_parent([bore.point - reach * axis, bore.point + reach * axis])
    across = float(np.linalg.norm(ends[1, :2] - ends[0, :2]))
    if across < _END_ON * reach:
        return shapely.Point(ends.mean(axis=0)[:2]).buffer(bore.diameter / 2, quad_segs=_ARC)
    return _band(ends, bore.diameter / 2)


def _sheet(sheet: Sheet) -> Any:
    def placed(ring: Sequence[tuple[float, float]]) -> Floats:
        points: Floats = sheet.frame.to_parent([(x, y, 0.0) for x, y in ring])[:, :2]
        return points

    return shapely.Polygon(placed(sheet.outline), [placed(ring) for ring in sheet.cutouts])


def _pieces(pieces: Sequence[Piece]) -> Any:
    return shapely.union_all(
        [_tube(piece) if isinstance(piece, Tube) else _outline(piece.corners()) for piece in pieces]
    )


def _tube(tube: Tube) -> Any:
    points = np.array(tube.points)
    turns = shapely.multipoints(points[1:-1, :2]).buffer(tube.radius, quad_segs=_ARC)
    ends = [_band(points[k : k + 2], tube.radius) for k in range(len(points) - 1)]
    return shapely.union_all([turns, *ends])


def _band(ends: Floats, radius: float) -> Any:
    """A straight round thing between two (3,) points: a strip, or a disc where it is seen end on."""
    if np.linalg.norm(ends[1, :2] - ends[0, :2]) < _END_ON:
        return shapely.Point(ends[0, :2]).buffer(radius, quad_segs=_ARC)
    return shapely.LineString(ends[:, :2]).buffer(radius, cap_style="flat")


def _box(box: Box) -> Any:
    corners = [(x, y, z) for x in (0.0, box.size[0]) for y in (0.0, box.size[1]) for z in (0.0, box.size[2])]
    return _outline(box.frame.to_parent(corners))
