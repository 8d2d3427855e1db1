"""From the roofs of a spec to the briefs of their panels."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import shapely

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.framing.sticks import Stock, stock_of
from panelgen.design.limits import shop_limits
from panelgen.design.roofs.brief import RoofBrief, RoofHole, Side, opening_plies
from panelgen.design.roofs.doubts import spliced_lines
from panelgen.design.roofs.parts import layout_of
from panelgen.design.roofs.pitch import Pitch
from panelgen.design.roofs.planes import PlaneSide, RoofPlane, planes_of
from panelgen.design.roofs.slope import Slope
from panelgen.design.roofs.split import Patch, split_plane
from panelgen.design.split.joints import Keep
from panelgen.design.walls.plan import layer_stack
from panelgen.geometry.frames import Frame
from panelgen.geometry.rings import segments
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Bearing, Finding, Severity
from panelgen.model.partition import Partition
from panelgen.spec import HouseSpec
from panelgen.spec.roofs import RoofSpec

__all__ = ["brief_of", "roof_briefs", "slope_of", "slopes_of"]

_SAME = 1e-4
_NARROW = 3.0
"""A strip nowhere wider than this many rafters are thick is no panel; common practice, no source."""


def slopes_of(spec: HouseSpec, catalog: Catalog, rules: RuleSet) -> tuple[tuple[Slope, ...], tuple[Finding, ...]]:
    """What the panels of every plane are made of, level by level and roof by roof, and what is doubtful of the planes.

    Raises GeometryError where a part of a roof has no eave.
    """
    slopes: list[Slope] = []
    findings: list[Finding] = []
    for level in spec.levels:
        for roof in spec.roofs:
            if roof.level == level.id:
                planes, doubts = planes_of(spec, roof, catalog, rules)
                slopes += [slope_of(spec, plane, catalog, rules) for plane in planes]
                findings += doubts
    return tuple(slopes), tuple(findings)


def roof_briefs(
    spec: HouseSpec, slopes: Sequence[Slope], catalog: Catalog, rules: RuleSet, keeps: Mapping[str, Sequence[Keep]]
) -> tuple[tuple[RoofBrief, ...], tuple[Partition, ...], tuple[Finding, ...]]:
    """Split every plane and brief every panel, labelled by level, R and a running number along the planes.

    Besides the briefs it gives how each convex part of a plane was split, and what stood in the way. `keeps` are the
    stretches of each plane, by its id, where joints would fall on a service.
    """
    briefs: list[RoofBrief] = []
    partitions: list[Partition] = []
    findings: list[Finding] = []
    limits = shop_limits(spec.shop)
    counts: dict[str, int] = {}
    for slope in slopes:
        plane = slope.plane
        split = split_plane(slope, spec.shop, limits, keeps.get(plane.id, ()))
        partitions += split.partitions
        findings += [*split.findings, *spliced_lines(plane, split.patches)]
        for patch in split.patches:
            if _is_strip(patch, _NARROW * slope.rafter.thickness):
                findings.append(_strip(plane, patch))
                continue
            count = counts[plane.level.id] = counts.get(plane.level.id, 0) + 1
            briefs.append(brief_of(spec, patch, f"{plane.level.id}R{count:02d}", catalog, rules))
    for roof in spec.roofs:
        findings += _lost_openings(roof, [one.plane for one in slopes if one.plane.roof is roof], briefs)
    return tuple(briefs), tuple(partitions), tuple(findings)


def _rafter(spec: HouseSpec, roof: RoofSpec, catalog: Catalog) -> Stock:
    framing = spec.assemblies[roof.assembly].framing
    return stock_of(catalog, framing.stock, framing.species, framing.grade)


def slope_of(spec: HouseSpec, plane: RoofPlane, catalog: Catalog, rules: RuleSet) -> Slope:
    """What all panels of a plane are made of."""
    roof, assembly = plane.roof, spec.assemblies[plane.roof.assembly]
    rafter = _rafter(spec, roof, catalog)
    boards = {line: _board(line, roof, rafter, catalog) for line in RoofLine}
    return Slope(plane, assembly, layer_stack(assembly, catalog), rafter, boards, catalog, rules)


def _width(patch: Patch) -> float:
    return max(side.start[0] for side in patch.sides) - patch.x0


def _is_strip(patch: Patch, widest: float) -> bool:
    """Whether a place is nowhere wider than `widest`."""
    area = shapely.Polygon([side.start for side in patch.sides])
    return bool(shapely.buffer(area, -widest / 2, join_style="mitre").is_empty)


def brief_of(spec: HouseSpec, patch: Patch, label: str, catalog: Catalog, rules: RuleSet) -> RoofBrief:
    """What the panel in a place of a plane is asked to be."""
    plane, x0 = patch.plane, patch.x0
    roof = plane.roof
    assembly = spec.assemblies[roof.assembly]
    rafter = _rafter(spec, roof, catalog)
    base = min(side.start[1] for side in patch.sides) * plane.pitch.secant
    pitch = Pitch(plane.pitch.tangent, plane.pitch.depth, base)
    span = (x0, x0 + _width(patch))
    layers = layer_stack(assembly, catalog)
    return RoofBrief(
        label=label,
        plane=plane,
        start=x0,
        foot=patch.foot,
        pitch=pitch,
        frame=Frame(plane.frame.point(x0, base, 0.0), plane.frame.x, plane.frame.y),
        sides=tuple(_side(side, x0, roof, rafter, catalog) for side in patch.sides),
        layout=tuple((number, x - x0) for number, x in layout_of(assembly.framing.spacing, span)),
        footprint=tuple((x - x0, run) for x, run in plane.footprint),
        walls=tuple(
            (a[0] - x0, b[0] - x0)
            for a, b in segments(plane.footprint)
            if max(abs(a[1]), abs(b[1])) < _SAME and a[0] < b[0]
        ),
        holes=tuple(_holes(plane, patch, pitch, rafter, rules, max(layer.z1 for layer in layers))),
        bearings=tuple(_bearings(plane, patch, pitch, span)),
        layers=layers,
        assembly=assembly,
        rafter=rafter,
        shop=spec.shop,
        rules=rules,
        catalog=catalog,
    )


def _side(side: PlaneSide, x0: float, roof: RoofSpec, rafter: Stock, catalog: Catalog) -> Side:
    (xa, ra), (xb, rb) = side.start, side.end
    return Side((xa - x0, ra), (xb - x0, rb), side.line, _board(side.line, roof, rafter, catalog))


def _board(line: RoofLine, roof: RoofSpec, rafter: Stock, catalog: Catalog) -> Stock:
    """What the board along a line is made of: what the spec names, or else the rafters' stock."""
    named = {
        RoofLine.RIDGE: roof.ridge,
        RoofLine.TOP: roof.ridge,
        RoofLine.HIP: roof.hip,
        RoofLine.VALLEY: roof.valley,
        RoofLine.EAVE: roof.fascia,
    }.get(line)
    return rafter if named is None else stock_of(catalog, named, rafter.species, rafter.grade)


def _holes(
    plane: RoofPlane, patch: Patch, pitch: Pitch, rafter: Stock, rules: RuleSet, top: float
) -> Iterator[RoofHole]:
    """The openings of a plane that lie in a panel with their headers; its sheathing ends at panel z `top`."""
    area = shapely.Polygon([side.start for side in patch.sides]).buffer(_SAME)
    for opening in plane.roof.openings:
        (x, y), (width, length) = opening.at, opening.size
        low, high = x - width / 2, x + width / 2
        headers = opening_plies(rules, opening) * rafter.thickness
        foot = plane.pitch.run_at(y - length / 2 - headers, pitch.depth)
        head = plane.pitch.run_at(y + length / 2 + headers)
        if opening.edge == plane.edge and area.contains(shapely.box(low, foot, high, head)):
            up = (y - length / 2 - pitch.base, y + length / 2 - pitch.base)
            runs = None if opening.dormer is None else (pitch.run_at(up[0], top), pitch.run_at(up[1], top))
            yield RoofHole(opening, (low - patch.x0, high - patch.x0), up, runs)


def _bearings(plane: RoofPlane, patch: Patch, pitch: Pitch, span: tuple[float, float]) -> Iterator[Bearing]:
    """The purlins that carry a panel, in its coordinates."""
    lowest, highest = (pick(side.start[1] for side in patch.sides) for pick in (min, max))
    for purlin in plane.roof.purlins:
        low, high = purlin.at - purlin.width / 2, purlin.at + purlin.width / 2
        if purlin.edge == plane.edge and high > lowest and low < highest:
            up = pitch.y_at(max(low, lowest)), pitch.y_at(min(high, highest))
            yield Bearing(purlin.id, 0.0, span[1] - span[0], *up)


def _lost_openings(roof: RoofSpec, planes: Sequence[RoofPlane], briefs: Sequence[RoofBrief]) -> list[Finding]:
    """Openings that are in no panel."""
    framed = {hole.spec.id for brief in briefs if brief.plane.roof is roof for hole in brief.holes}
    return [
        Finding(
            "roof.opening",
            Severity.STOP,
            f"opening {opening.id} is not within one panel of the plane over edge {opening.edge} with its "
            "headers: move it or a joint",
            parts=(opening.id,),
            house_point=next((plane.frame.origin for plane in planes if plane.edge == opening.edge), None),
            source="spec roofs.openings",
        )
        for opening in roof.openings
        if opening.id not in framed
    ]


def _strip(plane: RoofPlane, patch: Patch) -> Finding:
    area = shapely.Polygon([side.start for side in patch.sides]).area * plane.pitch.secant
    x, run = min(side.start for side in patch.sides)
    return Finding(
        "roof.strip",
        Severity.WARN,
        f"a strip of plane {plane.id} is too narrow for a panel and is filled on site: change an overhang or a corner",
        parts=(plane.id,),
        house_point=plane.frame.point(*plane.pitch.point((x, run))),
        value=area,
        unit="mm2",
        source="common practice, no source",
    )
