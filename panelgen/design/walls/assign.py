"""From resolved walls to the briefs of walls and panels: which opening, tee and layer span falls in which panel."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from panelgen.catalog import Catalog
from panelgen.design.brief import OpeningBrief, PanelBrief, PostBrief, Span, Tee
from panelgen.design.walls.junctions import ResolvedWall
from panelgen.design.walls.plan import storeys_above
from panelgen.geometry.frames import Frame, Point2
from panelgen.spec import HouseSpec
from panelgen.spec.services import BackingSpec

__all__ = ["opening_briefs", "panel_briefs", "whole_walls"]


def opening_briefs(spec: HouseSpec) -> dict[str, tuple[OpeningBrief, ...]]:
    """The rough openings of each wall, in wall coordinates (mm), left to right."""
    openings: dict[str, list[OpeningBrief]] = {}
    for one in spec.openings:
        unit = spec.unit_types[one.type]
        x0, y0, x1, y1 = one.rough_opening(unit)
        brief = OpeningBrief(one.id, unit.kind, x0, x1, y0, y1, unit.width, unit.height)
        openings.setdefault(one.wall, []).append(brief)
    return {wall: tuple(sorted(row, key=lambda o: o.x0)) for wall, row in openings.items()}


def whole_walls(
    spec: HouseSpec,
    resolved: Sequence[ResolvedWall],
    backing: Mapping[str, Sequence[BackingSpec]],
    catalog: Catalog,
) -> tuple[PanelBrief, ...]:
    """The brief of each wall as if it were one panel, without a label."""
    openings = opening_briefs(spec)
    return tuple(
        _brief(
            spec,
            one,
            one.framing,
            [o for o in openings.get(one.wall.id, ()) if o.x1 > one.framing[0] and o.x0 < one.framing[1]],
            backing.get(one.wall.id, ()),
            _layout(one),
            "",
            catalog,
        )
        for one in resolved
    )


def panel_briefs(
    spec: HouseSpec,
    resolved: Sequence[ResolvedWall],
    splits: Sequence[Sequence[Span]],
    backing: Mapping[str, Sequence[BackingSpec]],
    posts: Mapping[str, Sequence[PostBrief]],
    catalog: Catalog,
) -> tuple[PanelBrief, ...]:
    """The brief of every panel, labelled by level, kind and running number along the walls.

    `splits` are the panels of each wall as stretches of its framing, mm from where that begins. `posts` are those
    of each wall, in wall coordinates.
    """
    openings = opening_briefs(spec)
    briefs: list[PanelBrief] = []
    counts: dict[tuple[str, str], int] = {}
    for one, spans in zip(resolved, splits, strict=True):
        level, wall, begin = one.wall.level, one.wall.id, one.framing[0]
        layout = _layout(one)
        for start, end in spans:
            letter = "W" if one.wall.exterior else "P"
            counts[level.id, letter] = counts.get((level.id, letter), 0) + 1
            label = f"{level.id}{letter}{counts[level.id, letter]:02d}"
            span = (begin + start, begin + end)
            brief = _brief(spec, one, span, openings.get(wall, ()), backing.get(wall, ()), layout, label, catalog)
            briefs.append(replace(brief, posts=_posts(posts.get(wall, ()), span)))
    return tuple(briefs)


def _layout(one: ResolvedWall) -> tuple[float, ...]:
    """Stud centre lines in wall x: multiples of the spacing from the wall's start, inside its framing."""
    spacing = one.wall.assembly.framing.spacing
    first = math.ceil(one.framing[0] / spacing)
    last = math.floor(one.framing[1] / spacing)
    return tuple(number * spacing for number in range(first, last + 1))


def _brief(
    spec: HouseSpec,
    one: ResolvedWall,
    span: Span,
    openings: Sequence[OpeningBrief],
    backing: Sequence[BackingSpec],
    layout: Sequence[float],
    label: str,
    catalog: Catalog,
) -> PanelBrief:
    wall = one.wall
    start, end = span
    length = end - start
    first, last = abs(start - one.framing[0]) < 1e-6, abs(end - one.framing[1]) < 1e-6

    def clipped(layer: Span) -> Span:
        return (layer[0] - start if first else 0.0, layer[1] - start if last else length)

    tees = [_shifted(tee, start) for tee in one.tees if tee.framing[1] > start and tee.framing[0] < end]
    corner = [t for t in tees if (first and t.framing[0] <= 1.0) or (last and t.framing[1] >= length - 1.0)]
    frame = wall.frame
    panel_frame = Frame(frame.point(start, 0.0, 0.0), frame.x, frame.y)
    return PanelBrief(
        label=label,
        level=wall.level.id,
        wall=one.as_run(),
        wall_start=start,
        length=length,
        top=_top(wall.top, start, end),
        frame=panel_frame,
        layers=wall.layers,
        assembly=wall.assembly,
        openings=tuple(
            OpeningBrief(o.id, o.kind, o.x0 - start, o.x1 - start, o.y0, o.y1, o.unit_width, o.unit_height)
            for o in openings
            if o.x1 > start and o.x0 < end
        ),
        layout=tuple(x - start for x in layout if start <= x <= end),
        tees=tuple(tee for tee in tees if tee not in corner),
        corners=tuple(corner),
        outer_span=clipped(one.outer),
        inner_span=clipped(one.inner),
        strap_span=clipped(one.straps),
        joined=(not first, not last),
        lapped=(not first and not _bends(wall.top, start), not last and not _bends(wall.top, end)),
        storeys_above=storeys_above(spec, wall.level),
        backing=tuple(b for b in backing if b.end > start and b.start < end),
        design=spec.design,
        shop=spec.shop,
        rules=spec.rules,
        catalog=catalog,
        highest=max(y for _, y in wall.top),
    )


def _posts(posts: Sequence[PostBrief], span: Span) -> tuple[PostBrief, ...]:
    """The posts in a stretch of a wall, in panel coordinates; one on a joint goes to the panel on its right."""
    start, end = span
    return tuple(replace(post, x=post.x - start) for post in posts if start <= post.x < end)


def _shifted(tee: Tee, start: float) -> Tee:
    return Tee(
        tee.wall,
        (tee.span[0] - start, tee.span[1] - start),
        (tee.framing[0] - start, tee.framing[1] - start),
        tee.inner_face,
    )


def _top(top: Sequence[Point2], start: float, end: float) -> tuple[Point2, ...]:
    """The part of a wall's top line from `start` to `end`, in panel x; its end slopes go on beyond the wall's ends."""
    inner = [(x, y) for x, y in top if start + 1e-6 < x < end - 1e-6]
    # Bends at the very ends of the drawn wall are not bends of the framing.
    inner = [point for point in inner if point not in (top[0], top[-1])]
    points = [(start, _height(top, start)), *inner, (end, _height(top, end))]
    return tuple((x - start, y) for x, y in points)


def _bends(top: Sequence[Point2], x: float) -> bool:
    """True where a wall's top changes slope at wall x."""
    return any(abs(bend - x) < 1e-6 for bend, _ in top[1:-1])


def _height(top: Sequence[Point2], x: float) -> float:
    """Height of the top line at wall x, its first and last stretch extended."""
    for (xa, ya), (xb, yb) in itertools.pairwise(top):
        if x <= xb or (xb, yb) == top[-1]:
            return ya + (yb - ya) * (x - xa) / (xb - xa)
    raise AssertionError("a wall's top has at least two points")
