"""Studs against the stud table: stock, spacing and height, measured from the sticks that stand there.

Where the table ends, or is exceeded in a wall that carries load, the finding adds what an NDS calculation
under assumed loads makes of the studs: a guide for the engineer, who decides.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np

from panelgen.catalog import Catalog, RuleSet, StudLimit
from panelgen.checks.codes import found, named
from panelgen.checks.structure.carried import carried_words, line_loads
from panelgen.checks.structure.sticks import FULL, WALLS, Sticks
from panelgen.checks.structure.stud_design import stud_result
from panelgen.model import Finding, House, Member, Panel

__all__ = ["studs"]

_TOUCH = 0.5
"""Sawn and placed this well (mm), a stud is at its place; common practice, no source."""


@dataclass(frozen=True, slots=True)
class _Stud:
    """A full-height stick and the panel x of its middle, mm."""

    member: Member
    x: float


def studs(sticks: Sticks, house: House, rules: RuleSet, catalog: Catalog) -> Iterator[Finding]:
    """For each wall panel: its stock is not in the table; studs too far apart, one finding a space; the tallest stud.

    Spaces that a rough opening lies in are the header's business. A king or post that takes the place of a stud on
    the layout may be off it by its own thickness: common practice, no source.
    """
    look_up = cache(rules.stud_limits)
    rows = sticks.rows(*sorted(FULL), in_wall=True)
    centre = (sticks.low[rows, 0] + sticks.high[rows, 0]) / 2
    owner = sticks.scene.timber.panel[rows]
    order = np.lexsort((centre, owner))
    ends = np.searchsorted(owner[order], np.arange(len(sticks.scene.panels) + 1)).tolist()
    standing = [
        _Stud(sticks.member(row), x) for row, x in zip(rows[order].tolist(), centre[order].tolist(), strict=True)
    ]
    for number, (panel, (start, end)) in enumerate(zip(sticks.scene.panels, pairwise(ends), strict=True)):
        if panel.kind not in WALLS:
            continue
        own = standing[start:end]
        limit = look_up(panel.framing.product, house.floors_above(panel.level), panel.bearing)
        if limit is None:
            yield _finding("stud.table", panel, house, catalog, (sticks, number), own[:1], rules.title)
        else:
            yield from _beyond(panel, house, catalog, own, limit, (sticks, number))


def _beyond(
    panel: Panel, house: House, catalog: Catalog, own: Sequence[_Stud], limit: StudLimit, place: tuple[Sticks, int]
) -> Iterator[Finding]:
    """What of a wall's studs is beyond the limits."""
    for left, right in pairwise(own):
        apart = right.x - left.x
        open_between = any(hole.x0 < right.x and hole.x1 > left.x for hole in panel.openings)
        if open_between or apart <= limit.spacing + left.member.thickness + _TOUCH:
            continue
        yield _finding("stud.spacing", panel, house, catalog, place, (left, right), limit.cited, apart, limit.spacing)
    tallest = max(own, key=lambda stud: stud.member.length, default=None)
    if tallest is not None and tallest.member.length > limit.height + _TOUCH:
        height = tallest.member.length
        yield _finding("stud.height", panel, house, catalog, place, (tallest,), limit.cited, height, limit.height)


def _finding(
    code: str,
    panel: Panel,
    house: House,
    catalog: Catalog,
    place: tuple[Sticks, int],
    blamed: Sequence[_Stud],
    source: str,
    value: float | None = None,
    limit: float | None = None,
) -> Finding:
    x = sum(stud.x for stud in blamed) / len(blamed) if blamed else panel.length / 2
    return found(
        code,
        panel,
        parts=tuple(stud.member.id for stud in blamed),
        point=(x, panel.height / 2, panel.framing.thickness / 2),
        value=value,
        limit=limit,
        source=source,
        stock=panel.framing.product,
        load=carried_words(panel, house),
        first=named(blamed[0].member) if blamed else "a stud",
        second=named(blamed[-1].member) if blamed else "the next",
        guide=_guide(panel, house, catalog, place, blamed),
    )


def _guide(panel: Panel, house: House, catalog: Catalog, place: tuple[Sticks, int], blamed: Sequence[_Stud]) -> str:
    """What an NDS calculation makes of the first of the studs; nothing where the catalog cannot tell."""
    if not blamed or not panel.bearing:
        return ""
    strengths, stud = catalog.strengths, blamed[0].member
    values = strengths.values.get((stud.species, stud.grade))
    size = strengths.sizes.get((stud.grade, stud.stock))
    if values is None or size is None:
        return ""
    apart = blamed[-1].x - blamed[0].x if len(blamed) > 1 else place[0].layout(place[1])
    result = stud_result(
        catalog.stock(stud.stock),
        values,
        size,
        strengths,
        stud.length,
        apart,
        line_loads(panel, house, strengths),
        strengths.load("wind on a wall"),
        values.across,
    )
    return f"; by NDS under assumed loads it takes {result.worst:.0%} of its capacity"
