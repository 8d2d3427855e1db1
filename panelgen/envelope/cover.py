"""What stands behind every square metre of the airtight shell: insulation, wood, or nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from panelgen.envelope.surfaces import barrier_layers
from panelgen.geometry.frames import Floats, Point2
from panelgen.model import Barrier, House, Panel, PanelKind

__all__ = ["Cover", "airtight_panels", "bare_covers", "covers"]

_SLIVER = 12.7
"""Bare places nowhere wider than this (mm) are slivers: 1/2 in., common practice, no source."""

_BETWEEN = 4.0
"""Joints between sheets are no wider than this (mm); common practice, no source."""

_BARE = 5e4
"""Bare places of less than this in all (mm2), half a square foot, are not told of; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Cover:
    """The framing face of a panel without its rough openings, in parts that add up to `area`, mm2.

    `insulated` is what a bay takes of any depth, `wood` what sticks alone do, loose ones that lap from a neighbour
    among them; the rest is `bare`, or `slivers` too thin to fill. `point` is in the largest bare place, or None.
    """

    panel: Panel
    area: float
    insulated: float
    wood: float
    slivers: float
    bare: float
    point: Point2 | None


def airtight_panels(house: House) -> tuple[Panel, ...]:
    """The panels that carry the air barrier."""
    return tuple(panel for panel in house.panels if any(barrier_layers(panel, Barrier.AIR)))


def covers(house: House, panels: Sequence[Panel]) -> Iterator[Cover]:
    """The cover of each of some panels of the house."""
    loose = _loose_corners(house)
    return (_cover(panel, loose) for panel in panels)


def bare_covers(house: House) -> Iterator[Cover]:
    """The covers of airtight, insulated panels that have bare places of half a square foot and more.

    Sticks and bays share no space: where they leave too little of the layer, no column through it can be bare.
    """
    doubtful = [panel for panel in airtight_panels(house) if panel.bays and _void(panel) > _BARE * _depth(panel)]
    return (cover for cover in covers(house, doubtful) if cover.bare > _BARE)


def _cover(panel: Panel, loose: Sequence[Floats]) -> Cover:
    region = _region(panel)
    bays = shapely.union_all([shapely.Polygon(bay.outline, bay.holes) for bay in panel.bays])
    wood = shapely.union_all(_seen([*_stick_corners(panel), *_lapping(panel, loose)]))
    rest = shapely.difference(region, bays)
    void = shapely.difference(rest, wood)
    core = shapely.buffer(void, -_SLIVER / 2, join_style="mitre")
    bare = shapely.intersection(shapely.buffer(core, _SLIVER / 2, join_style="mitre"), void)
    largest = max(shapely.get_parts(bare).tolist(), key=shapely.area, default=None)
    point = None if largest is None or largest.is_empty else largest.representative_point().coords[0]
    return Cover(
        panel,
        area=region.area,
        insulated=region.area - rest.area,
        wood=rest.area - void.area,
        slivers=max(0.0, void.area - bare.area),
        bare=bare.area,
        point=point,
    )


def _region(panel: Panel) -> shapely.Geometry:
    """The framing face without rough openings; of a roof, which goes on past the walls, what the air barrier covers."""
    region = shapely.Polygon(panel.profile)
    if panel.kind is PanelKind.ROOF:
        layers = {layer.name for layer in barrier_layers(panel, Barrier.AIR)}
        sheets = [
            shapely.Polygon(np.array(sheet.outline) + sheet.frame.origin[:2])
            for sheet in panel.sheets
            if sheet.layer in layers
        ]
        region = region.intersection(shapely.union_all(shapely.buffer(sheets, _BETWEEN / 2, join_style="mitre")))
    holes = [shapely.box(hole.x0, hole.y0, hole.x1, hole.y1) for hole in panel.openings]
    return region.difference(shapely.union_all(holes))


def _stick_corners(panel: Panel) -> list[Floats]:
    name = panel.framing.name
    return [member.corners() for member in panel.members if member.layer == name and not member.loose]


def _loose_corners(house: House) -> list[Floats]:
    """(8, 3) corners in the house of every loose stick of a framing layer."""
    return [
        panel.frame.to_parent(member.corners())
        for panel in house.panels
        for member in panel.members
        if member.loose and member.layer == panel.framing.name
    ]


def _lapping(panel: Panel, loose: Sequence[Floats]) -> Iterator[Floats]:
    """Corners in the panel of the loose sticks that lie in its framing."""
    low, high = panel.framing.z0, panel.framing.z1
    for corners in loose:
        local = panel.frame.to_local(corners)
        if local[:, 2].min() < high and local[:, 2].max() > low:
            yield local


def _seen(sticks: Sequence[Floats]) -> Sequence[shapely.Geometry]:
    """The outlines of sticks on the face of the panel."""
    if not sticks:
        return ()
    points = np.concatenate(sticks)[:, :2]
    rows = np.arange(len(sticks)).repeat([len(corners) for corners in sticks])
    outlines: Sequence[shapely.Geometry] = shapely.convex_hull(shapely.multipoints(points, indices=rows))
    return outlines


def _depth(panel: Panel) -> float:
    return panel.framing.thickness


def _void(panel: Panel) -> float:
    """What the sticks and bays of a panel leave of its framing layer, mm3; all of a roof's may be in its eaves."""
    if panel.kind is PanelKind.ROOF:
        return np.inf
    name = panel.framing.name
    sticks = (m for m in panel.members if m.layer == name and not m.loose)
    wood = sum(m.width * m.thickness * (m.length if m.has_square_ends else m.centre_length) for m in sticks)
    face = shapely.Polygon(panel.profile).area - sum(hole.width * hole.height for hole in panel.openings)
    return float(face * _depth(panel) - wood - sum(bay.gross_volume for bay in panel.bays) * 1e9)
