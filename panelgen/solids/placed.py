"""The solids of a panel: shared shapes, each with the frame that puts it in its place."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from panelgen.geometry.fibres import Across
from panelgen.geometry.frames import WORLD, Frame, Vec3, add, scaled
from panelgen.geometry.mitres import Tube, tubes_along
from panelgen.model.bodies import block_body, member_body, sheet_body
from panelgen.model.groups import PartGroup, layer_groups
from panelgen.model.house import House
from panelgen.model.palette import GROUP_COLOURS, Rgb
from panelgen.model.panel import Panel
from panelgen.model.pieces import DuctPiece, Piece, fitting_pieces, run_pieces
from panelgen.model.truss_bodies import truss_body, truss_frame, truss_volume
from panelgen.model.trusses import Truss
from panelgen.model.volumes import box_volume, member_volume, sheet_volume
from panelgen.solids.prototypes import Prototypes

__all__ = ["PlacedSolid", "house_solids", "located", "panel_solids", "placement", "to_cadquery"]

_DECIMALS = 6


@dataclass(frozen=True, slots=True)
class PlacedSolid:
    """One solid of a part: `shape` is a kernel solid shared by equal parts, `frame` puts it in its place.

    A part that falls into pieces has several: a stick parted by a cut, a run too sharply bent to mitre.
    """

    part: str
    mark: str
    group: PartGroup
    shape: Any
    frame: Frame

    @property
    def name(self) -> str:
        """The printed mark, or the id of a part that has none."""
        return self.mark or self.part

    @property
    def colour(self) -> Rgb:
        """Colour of its group in sRGB, 0 to 255."""
        return GROUP_COLOURS[self.group]


def panel_solids(panel: Panel, prototypes: Prototypes | None = None, within: Frame = WORLD) -> list[PlacedSolid]:
    """Solids of all members, sheets, runs, fittings and boxes, in that order, in panel coordinates.

    Nails have none. With the panel's frame as `within` they are in house coordinates. Shapes are taken from
    `prototypes`, which may already hold those of other panels. Every new shape is checked by the
    kernel. Raises GeometryError, naming the part, for one that cannot be made.
    """
    shop = Prototypes() if prototypes is None else prototypes
    solids = list(_solids(panel, shop, within))
    shop.prove()
    return solids


def house_solids(house: House, prototypes: Prototypes | None = None) -> list[PlacedSolid]:
    """Solids of every panel, panel after panel, then of supplied trusses, in house coordinates; see `panel_solids`."""
    shop = Prototypes() if prototypes is None else prototypes
    solids = [solid for panel in house.panels for solid in _solids(panel, shop, panel.frame)]
    solids += [solid for truss in house.trusses for solid in _truss_solids(truss, shop)]
    shop.prove()
    return solids


def placement(frame: Frame) -> Any:
    """A frame as the kernel's location."""
    from OCP.gp import gp_Trsf
    from OCP.TopLoc import TopLoc_Location

    (a, b, c), (d, e, f), (g, h, i), (x, y, z) = frame.x, frame.y, frame.z, frame.origin
    move = gp_Trsf()
    move.SetValues(a, d, g, x, b, e, h, y, c, f, i, z)
    return TopLoc_Location(move)


def located(solid: PlacedSolid) -> Any:
    """The kernel solid in its place."""
    return solid.shape.Located(placement(solid.frame))


def to_cadquery(solid: PlacedSolid) -> Any:
    """A solid in its place as a cadquery shape, to go on modelling with."""
    import cadquery

    return cadquery.Shape.cast(located(solid))


def _solids(panel: Panel, shop: Prototypes, within: Frame) -> Iterator[PlacedSolid]:
    groups = layer_groups(panel)
    for member in panel.members:
        place = within.compose(member.frame)
        for shape in shop.of_body(member.id, member_body(member), partial(member_volume, member)):
            yield PlacedSolid(member.id, member.mark, groups[member.layer], shape, place)
    for sheet in panel.sheets:
        place = within.compose(sheet.frame)
        for shape in shop.of_body(sheet.id, sheet_body(sheet), partial(sheet_volume, sheet)):
            yield PlacedSolid(sheet.id, sheet.mark, groups[sheet.layer], shape, place)
    services = [(run.id, run_pieces(run)) for run in panel.runs]
    services += [(fitting.id, fitting_pieces(fitting)) for fitting in panel.fittings]
    for part, pieces in services:
        for frame, shapes in (placed for piece in pieces for placed in _piece_shapes(part, piece, shop)):
            for shape in shapes:
                yield PlacedSolid(part, "", PartGroup.SERVICES, shape, within.compose(frame))
    for box in panel.boxes:
        place = within.compose(box.frame)
        for shape in shop.of_body(box.id, block_body(*box.size), partial(box_volume, box)):
            yield PlacedSolid(box.id, "", PartGroup.SERVICES, shape, place)


def _truss_solids(truss: Truss, shop: Prototypes) -> Iterator[PlacedSolid]:
    for shape in shop.of_body(truss.id, truss_body(truss), partial(truss_volume, truss)):
        yield PlacedSolid(truss.id, "", PartGroup.TRUSSES, shape, truss_frame(truss))


def _piece_shapes(part: str, piece: Piece, shop: Prototypes) -> Iterator[tuple[Frame, Iterable[Any]]]:
    """The shapes of a piece of a run or fitting, each lot with the frame that puts it in the panel."""
    if isinstance(piece, DuctPiece):
        yield piece.frame, shop.of_body(part, piece.body, piece.volume)
    else:
        for frame, tube in _from_its_start(piece):
            yield frame, shop.of_tube(part, tube)


def _from_its_start(tube: Tube) -> Iterator[tuple[Frame, Tube]]:
    """The same tube in coordinates of its own, so that equal ones are equal; a straight one goes up z."""
    origin = tube.points[0]
    back = scaled(origin, -1.0)
    for moved in tubes_along([_rounded(add(point, back)) for point in tube.points], tube.radius):
        if len(moved.points) == 2:
            start, end = moved.points
            across = Across.to(moved.directions[0])
            length = round(math.dist(start, end), _DECIMALS)
            (upright,) = tubes_along(((0.0, 0.0, 0.0), (0.0, 0.0, length)), tube.radius)
            yield Frame(add(origin, start), across.u, across.v), upright
        else:
            yield Frame(origin, WORLD.x, WORLD.y), moved


def _rounded(at: Vec3) -> Vec3:
    x, y, z = (round(value, _DECIMALS) + 0.0 for value in at)
    return (x, y, z)
