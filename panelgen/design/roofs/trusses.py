"""Supplied trusses set on two walls, and what can be said of them without designing them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from panelgen.catalog import Catalog, Lumber, RuleSet
from panelgen.design.walls.junctions import ResolvedWall
from panelgen.geometry.frames import Frame, Point2, Vec3, add, dot, scaled
from panelgen.model import Finding, Severity, Truss, Why
from panelgen.spec import HouseSpec
from panelgen.spec.roofs import TrussSpec

__all__ = ["trusses_of"]

_SAME = 1.0
"""Spans and walls that differ by less (mm) fit: saw tolerance, common practice, no source."""

_PARALLEL = 1e-6

_CHORD = "2x4"
"""Chords are shown in this stock; what they are made of is for their supplier to say."""

_STRONG_PLATES = "2x6"
"""Two top plates of this stock carry trusses anywhere between the studs: IBC 2018 2308.5.3.2."""


def trusses_of(
    spec: HouseSpec, walls: Sequence[ResolvedWall], rules: RuleSet, catalog: Catalog
) -> tuple[tuple[Truss, ...], tuple[Finding, ...]]:
    """Every truss in its place, row by row, and findings about their bearings, bracing and mass."""
    by_id = {one.wall.id: one for one in walls}
    trusses: list[Truss] = []
    findings: list[Finding] = []
    for row in spec.trusses:
        made = tuple(_row(row, by_id, catalog.stock(_CHORD)))
        trusses += made
        findings += _doubts(spec, row, made, by_id)
        findings += _off_studs(row, [by_id[name] for name in row.bearings], rules, catalog)
    return tuple(trusses), tuple(findings)


def _row(row: TrussSpec, walls: Mapping[str, ResolvedWall], chord: Lumber) -> Iterator[Truss]:
    """The trusses of a row, square to the first of their walls."""
    first = walls[row.bearings[0]]
    frame = first.wall.frame
    outline = _outline(row, chord.width)
    across, up = scaled(frame.z, -1.0), frame.y
    braced = f"{row.bracing_rows} rows of lateral bracing" if row.bracing_rows else "lateral bracing not given"
    words = f"supplied: one of {row.count} trusses every {row.spacing:.0f} mm, {braced}; designed by its engineer"
    why = Why("truss", words, "spec trusses")
    for number in range(row.count):
        along = row.first + number * row.spacing
        origin = frame.point(along, _plate(first, along), first.wall.framing.thickness)
        place = Frame(origin, across, up)
        yield Truss(
            f"{row.id}-{number + 1:02d}",
            row.id,
            row.level,
            place,
            outline,
            row.span,
            row.mass,
            row.bearings,
            row.bracing_rows,
            chord.width,
            chord.thickness * row.plies,
            why,
            row.plies,
        )


def _plate(wall: ResolvedWall, along: float) -> float:
    """Height of the wall's top at a place along it; its ends are held."""
    points = wall.wall.top
    for (xa, ya), (xb, yb) in pairwise(points):
        if along <= xb:
            return ya + (yb - ya) * max(0.0, along - xa) / (xb - xa)
    return points[-1][1]


def _outline(row: TrussSpec, chord: float) -> tuple[Point2, ...]:
    """Bottom chord, plumb-cut tails and top chords; the top is symmetric about the middle of the span."""
    slope, out, span = row.rise / row.run, row.overhang, row.span
    heel = row.heel
    plumb = chord * math.hypot(1.0, slope)
    right = [(span, 0.0)]
    if out > 0.0:
        right += [(span, heel - plumb)] if heel > plumb else []
        right += [(span + out, heel - slope * out - plumb)]
    right += [(span + out, heel - slope * out)]
    left = [(span - x, y) for x, y in reversed(right)]
    return (*right, (span / 2, heel + slope * span / 2), *left)


def _doubts(
    spec: HouseSpec, row: TrussSpec, trusses: Sequence[Truss], walls: Mapping[str, ResolvedWall]
) -> Iterator[Finding]:
    first, second = (walls[name] for name in row.bearings)
    start, end = trusses[0].frame.origin, trusses[-1].frame.origin
    words = "their design, uplift and the bracing of the row need an engineer: ask for sealed drawings"
    yield _said(row, "truss.engineer", Severity.NOTE, start, words)
    if not row.bracing_rows:
        words = "no rows of lateral bracing are given: take their number from the truss drawings"
        yield _said(row, "truss.bracing", Severity.WARN, start, words)
    for wall in (first, second):
        if not wall.wall.bearing:
            words = f"wall {wall.wall.id} carries trusses but is not a bearing wall: say bearing: true"
            yield _said(row, "truss.bearing", Severity.STOP, start, words)
    yield from _span(row, first, second, start)
    last = row.first + (row.count - 1) * row.spacing
    if row.first < first.framing[0] - _SAME or last > first.framing[1] + _SAME:
        words = f"the row runs past the framing of wall {first.wall.id}: change its count, spacing or start"
        yield _said(row, "truss.off-wall", Severity.STOP, end, words, last, first.framing[1])
    if row.mass > spec.shop.panel_mass:
        words = "a truss is heavier than the shop lifts: see to another crane"
        yield _said(row, "truss.mass", Severity.WARN, start, words, row.mass, spec.shop.panel_mass, "kg")


def _span(row: TrussSpec, first: ResolvedWall, second: ResolvedWall, start: Vec3) -> Iterator[Finding]:
    """The second wall must be parallel, and as far off as the trusses span, outer face to outer face."""
    a, b = first.wall.frame, second.wall.frame
    if abs(abs(dot(a.x, b.x)) - 1.0) > _PARALLEL:
        yield _said(row, "truss.span", Severity.STOP, start, "the two walls are not parallel: name two that are")
        return
    far = b.point(0.0, 0.0, second.wall.framing.thickness if dot(a.z, b.z) < 0.0 else 0.0)
    apart = -dot(add(far, scaled(a.point(0.0, 0.0, first.wall.framing.thickness), -1.0)), a.z)
    if abs(apart - row.span) > _SAME:
        words = "the span does not reach from outer face to outer face of the two walls' framing: correct it"
        yield _said(row, "truss.span", Severity.STOP, start, words, row.span, apart)


def _off_studs(row: TrussSpec, walls: Sequence[ResolvedWall], rules: RuleSet, catalog: Catalog) -> Iterator[Finding]:
    """Trusses must be near a stud of both walls, unless the plates are as strong as two of `_STRONG_PLATES`."""
    rule = rules.structure.load_path
    first = walls[0].wall.frame
    for wall in walls:
        framing, frame = wall.wall.assembly.framing, wall.wall.frame
        if framing.top_plates > 1 and wall.wall.framing.thickness >= catalog.stock(_STRONG_PLATES).width:
            continue
        places = [
            dot(add(first.point(row.first + number * row.spacing, 0.0, 0.0), scaled(frame.origin, -1.0)), frame.x)
            for number in range(row.count)
        ]
        off = max(abs(x - round(x / framing.spacing) * framing.spacing) for x in places)
        if off > rule.reach:
            words = f"they stand too far beside the studs of wall {wall.wall.id}: shift the row or its spacing"
            at = first.point(row.first, 0.0, 0.0)
            yield _said(row, "truss.off-stud", Severity.WARN, at, words, off, rule.reach, source=rule.cited)


def _said(
    row: TrussSpec,
    code: str,
    severity: Severity,
    point: Vec3,
    words: str,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "mm",
    source: str = "spec trusses",
) -> Finding:
    return Finding(
        code,
        severity,
        f"trusses {row.id}: {words}",
        parts=(row.id,),
        house_point=point,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
    )
