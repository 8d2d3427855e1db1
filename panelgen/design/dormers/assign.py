"""From the dormers of a spec to the briefs of their panels."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count
from math import hypot

import shapely

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.brief import PanelBrief, Span
from panelgen.design.dormers.cheeks import Cheek, Line, meet
from panelgen.design.dormers.doubts import comes_down_early, leaves_its_plane, loads, too_steep
from panelgen.design.dormers.planes import dormer_planes
from panelgen.design.dormers.shape import Dormer
from panelgen.design.dormers.tilting import Lining, Slope, level_brief
from panelgen.design.dormers.walls import DormerWalls, walls_of
from panelgen.design.limits import shop_limits
from panelgen.design.roofs.assign import brief_of, slope_of
from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.planes import RoofPlane, planes_of
from panelgen.design.roofs.split import split_plane
from panelgen.design.split.wall import WallPieces, split_wall
from panelgen.design.walls.assign import whole_walls
from panelgen.design.walls.junctions import Meeting, ResolvedWall
from panelgen.model import Finding, Partition
from panelgen.spec import HouseSpec

__all__ = ["DormerBriefs", "Dormers", "LevelWall", "dormers_of"]


@dataclass(frozen=True, slots=True)
class _Standing:
    """A dormer that can stand where it is asked to: its planes, its walls, and how its level walls are split."""

    dormer: Dormer
    planes: tuple[RoofPlane, ...]
    walls: DormerWalls
    spans: tuple[tuple[Span, ...], ...]


@dataclass(frozen=True, slots=True)
class LevelWall:
    """A panel of the front or the back wall: its brief, the roof under it, and how it lines the opening there."""

    brief: PanelBrief
    slope: Slope
    lining: Lining


@dataclass(frozen=True, slots=True)
class DormerBriefs:
    """The briefs of the panels of a dormer: its level walls, cheeks, and roof panels."""

    id: str
    level: tuple[LevelWall, ...]
    cheeks: tuple[Cheek, ...]
    roofs: tuple[RoofBrief, ...]


@dataclass(frozen=True, slots=True)
class Dormers:
    """The dormers of a house before their panels are numbered."""

    standing: tuple[_Standing, ...]
    partitions: tuple[Partition, ...]
    findings: tuple[Finding, ...]

    @property
    def walls(self) -> tuple[ResolvedWall, ...]:
        """All their walls, dormer by dormer."""
        return tuple(wall for one in self.standing for wall in one.walls.all)

    @property
    def spans(self) -> tuple[tuple[Span, ...], ...]:
        """The panels of each wall as stretches of its framing, mm from where that begins."""
        return tuple(spans for one in self.standing for spans in one.spans)

    @property
    def meetings(self) -> tuple[Meeting, ...]:
        """Where their walls meet one another."""
        return tuple(meeting for one in self.standing for meeting in one.walls.meetings)

    def briefs(
        self,
        spec: HouseSpec,
        walls: Sequence[PanelBrief],
        roofs: Sequence[RoofBrief],
        catalog: Catalog,
        rules: RuleSet,
    ) -> tuple[tuple[DormerBriefs, ...], tuple[Partition, ...], tuple[Finding, ...]]:
        """The briefs of their panels, given those of their walls; roof panels are numbered on from `roofs`.

        Besides the briefs it gives how each part of their roofs was split, and what stood in the way.
        """
        numbers: dict[str, Iterator[int]] = {}
        made: list[DormerBriefs] = []
        partitions: list[Partition] = []
        findings: list[Finding] = []
        by_wall: dict[str, list[PanelBrief]] = {}
        for brief in walls:
            by_wall.setdefault(brief.wall.id, []).append(brief)
        for one in self.standing:
            level = one.dormer.plane.level.id
            last = sum(brief.plane.level.id == level for brief in roofs)
            number = numbers.setdefault(level, count(last + 1))
            panels = []
            for plane in one.planes:
                split = split_plane(slope_of(spec, plane, catalog, rules), spec.shop, shop_limits(spec.shop))
                partitions += split.partitions
                findings += split.findings
                panels += [
                    brief_of(spec, patch, f"{level}R{next(number):02d}", catalog, rules) for patch in split.patches
                ]
            upright = [
                _level(one.dormer, wall, brief, catalog) for wall in one.walls.level for brief in by_wall[wall.wall.id]
            ]
            cheeks = [_cheek(one, wall, by_wall[wall.wall.id][0]) for wall in one.walls.cheeks]
            made.append(DormerBriefs(one.dormer.id, tuple(upright), tuple(cheeks), tuple(panels)))
        return tuple(made), tuple(partitions), tuple(findings)


def dormers_of(spec: HouseSpec, catalog: Catalog, rules: RuleSet) -> Dormers:
    """Every dormer of a house that can stand where it is asked to, and findings about the others."""
    standing: list[_Standing] = []
    partitions: list[Partition] = []
    findings: list[Finding] = []
    for dormer in _asked(spec, catalog, rules):
        steep = too_steep(dormer)
        if steep is not None:
            findings.append(steep)
            continue
        planes, doubts = dormer_planes(spec, dormer, catalog, rules)
        least = _least_back(spec, dormer, catalog) if dormer.sealed else 0.0
        faults = [leaves_its_plane(dormer, planes), comes_down_early(dormer, planes, least)]
        if any(faults):
            findings += [fault for fault in faults if fault is not None]
            continue
        walls = walls_of(spec, dormer, planes)
        spans = []
        for whole, wall in zip(whole_walls(spec, walls.level, {}, catalog), walls.level, strict=True):
            level = level_brief(whole, _slope(dormer, wall, catalog))
            split = split_wall(WallPieces(level, rules, shop_limits(spec.shop)))
            spans.append(split.spans)
            partitions.append(split.partition)
            findings += split.findings
        for wall in walls.cheeks:
            spans.append((_cheek_span(dormer, wall),))
            (start, end) = spans[-1][0]
            partitions.append(Partition(wall.wall.id, wall.framing[0] + start, end - start, (), 0, 1, 1))
        standing.append(_Standing(dormer, planes, walls, tuple(spans)))
        findings += [*doubts, loads(dormer)]
    return Dormers(tuple(standing), tuple(partitions), tuple(findings))


def _asked(spec: HouseSpec, catalog: Catalog, rules: RuleSet) -> Iterator[Dormer]:
    """The dormers that are asked for, on the planes of their openings: an edge may have more than one."""
    for roof in spec.roofs:
        openings = [(opening, opening.dormer) for opening in roof.openings if opening.dormer is not None]
        planes = planes_of(spec, roof, catalog, rules)[0] if openings else ()
        for opening, asked in openings:
            (x, y), (_, length) = opening.at, opening.size
            for plane in planes:
                foot = shapely.Point(x, plane.pitch.run_at(y - length / 2, plane.pitch.depth))
                if plane.edge == opening.edge and shapely.Polygon([side.start for side in plane.sides]).contains(foot):
                    yield Dormer.of(spec, plane, opening, asked, catalog)


def _slope(dormer: Dormer, wall: ResolvedWall, catalog: Catalog) -> Slope:
    """The roof under the front or the back wall of a dormer."""
    stock = catalog.stock(wall.wall.assembly.framing.stock)
    toward = -1.0 if wall.wall.id == dormer.opening.front else 1.0
    return Slope(toward * dormer.steepness, dormer.depth, stock.thickness)


def _level(dormer: Dormer, wall: ResolvedWall, brief: PanelBrief, catalog: Catalog) -> LevelWall:
    """The part of a level wall that is in one panel."""
    side, start = dormer.depth, brief.wall_start
    span = (side - start, wall.wall.length - side - start)
    return LevelWall(brief, _slope(dormer, wall, catalog), Lining(span, _lining(dormer)))


def _least_back(spec: HouseSpec, dormer: Dormer, catalog: Catalog) -> float:
    """The least height of a back wall: its plates, and the shortest stud that the shop makes."""
    framing = spec.assemblies[dormer.spec.walls].framing
    thickness = catalog.stock(framing.stock).thickness
    slope = Slope(dormer.steepness, dormer.depth, thickness)
    steep = dormer.slope if dormer.spec.form == "gable" else 0.0
    plates = (1.0 + framing.top_plates * hypot(1.0, steep)) * thickness
    return slope.lift + plates + spec.shop.shortest_member


def _lining(dormer: Dormer) -> float:
    """How far the inner sheathing of its walls goes on into the opening."""
    return dormer.lining if dormer.sealed else 0.0


def _lines(dormer: Dormer, wall: ResolvedWall) -> tuple[Line, Line]:
    """The sheathing under a cheek and its top, in wall coordinates."""
    (xa, ya), (xb, yb) = wall.wall.top[0], wall.wall.top[-1]
    rise = (yb - ya) / (xb - xa)
    slope = dormer.steepness
    ahead = wall.wall.id.endswith("-right")
    base = Line(0.0, slope) if ahead else Line(slope * wall.wall.length, -slope)
    return base, Line(ya - rise * xa, rise)


def _cheek_span(dormer: Dormer, wall: ResolvedWall) -> Span:
    """The stretch of a cheek's framing that is left in front of its tip."""
    base, top = _lines(dormer, wall)
    start, end = wall.framing
    tip = meet(base, top)
    return (0.0, tip - start) if base.rise > 0.0 else (tip - start, end - start)


def _cheek(standing: _Standing, wall: ResolvedWall, brief: PanelBrief) -> Cheek:
    dormer, plane = standing.dormer, standing.planes[0]
    base, top = _lines(dormer, wall)
    start = brief.wall_start
    inner = (wall.inner[0] - start, wall.inner[1] - start)
    front = -start if base.rise > 0.0 else wall.wall.length - start
    eave = plane.frame.origin[2] - plane.lap * dormer.slope - dormer.elevation
    return Cheek(
        brief, Line(base.at(start), base.rise), Line(top.at(start), top.rise), front, inner, _lining(dormer), eave
    )
