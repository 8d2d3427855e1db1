"""The solids of a panel: shared shapes, each with the frame that puts it in its place."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import Any

from panelgen.geometry.fibres import Across
from panelgen.geometry.frames import Frame, Vec3, add, scaled
from panelgen.geometry.mitres import Tube, tubes_along
from panelgen.model.bodies import block_body, member_body, sheet_body
from panelgen.model.groups import PartGroup, layer_groups
from panelgen.model.palette import GROUP_COLOURS, Rgb
from panelgen.model.panel import Panel
from panelgen.model.services import Box, RunPart
from panelgen.model.volumes import box_volume, member_volume, sheet_volume
from panelgen.solids.prototypes import Prototypes

__all__ = ["PlacedSolid", "located", "panel_solids", "placement", "to_cadquery"]

_DECIMALS = 6


@dataclass(frozen=True, slots=True)
class PlacedSolid:
    """One solid of a part. `shape` is a kernel shape shared by equal parts, `frame` places it in the panel.

    A run whose bends are too sharp to mitre has several.
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
        """SRGB colour of its group, 0 to 255."""
        return GROUP_COLOURS[self.group]


def panel_solids(panel: Panel, prototypes: Prototypes | None = None) -> list[PlacedSolid]:
    """Solids of all members, sheets, runs and boxes of a panel, in that order; nails are not solids.

    Shapes are taken from `prototypes`, which may already hold those of other panels. Every shape is
    checked by the kernel once. Raises GeometryError, naming the part, for one that cannot be made.
    """
    shop = Prototypes() if prototypes is None else prototypes
    groups = layer_groups(panel)
    solids = [
        PlacedSolid(
            member.id,
            member.mark,
            groups[member.layer],
            shop.of_body(member.id, member_body(member), partial(member_volume, member)),
            member.frame,
        )
        for member in panel.members
    ]
    solids += [
        PlacedSolid(
            sheet.id,
            sheet.mark,
            groups[sheet.layer],
            shop.of_body(sheet.id, sheet_body(sheet), partial(sheet_volume, sheet)),
            sheet.frame,
        )
        for sheet in panel.sheets
    ]
    for run in panel.runs:
        solids += _run_solids(run, shop)
    solids += [_box_solid(box, shop) for box in panel.boxes]
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


def located(solid: PlacedSolid, within: Frame | None = None) -> Any:
    """The kernel shape in its place in the panel, or in the parent of the panel's frame `within`."""
    return solid.shape.Located(placement(solid.frame if within is None else within.compose(solid.frame)))


def to_cadquery(solid: PlacedSolid, within: Frame | None = None) -> Any:
    """A solid in its place as a cadquery shape, to go on modelling with; `within` as in `located`."""
    import cadquery

    return cadquery.Shape.cast(located(solid, within))


def _run_solids(run: RunPart, shop: Prototypes) -> list[PlacedSolid]:
    solids = []
    for tube in tubes_along(run.path, run.diameter / 2):
        if len(tube.points) == 2:
            frame, local = _straight(tube)
        else:
            frame = Frame(tube.points[0], (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
            local = _tube_from_origin(tube)
        solids.append(PlacedSolid(run.id, "", PartGroup.SERVICES, shop.of_tube(run.id, local), frame))
    return solids


def _straight(tube: Tube) -> tuple[Frame, Tube]:
    """A frame along a straight tube, and the tube up its z axis: the same for equal lengths."""
    start, end = tube.points
    along = tube.directions[0]
    length = round(sum((b - a) * d for a, b, d in zip(start, end, along, strict=True)), _DECIMALS)
    across = Across.to(along)
    (upright,) = tubes_along(((0.0, 0.0, 0.0), (0.0, 0.0, length)), tube.radius)
    return Frame(start, across.u, across.v), upright


def _tube_from_origin(tube: Tube) -> Tube:
    back = scaled(tube.points[0], -1.0)
    (moved,) = tubes_along([_rounded(add(point, back)) for point in tube.points], tube.radius)
    return moved


def _rounded(at: Vec3) -> Vec3:
    x, y, z = (round(value, _DECIMALS) + 0.0 for value in at)
    return (x, y, z)


def _box_solid(box: Box, shop: Prototypes) -> PlacedSolid:
    shape = shop.of_body(box.id, block_body(*box.size), partial(box_volume, box))
    return PlacedSolid(box.id, "", PartGroup.SERVICES, shape, box.frame)
