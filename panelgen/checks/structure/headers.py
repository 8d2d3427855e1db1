"""Headers against the header table, measured from what was built and not from what the design chose.

Plies, wood, jacks, full-height studs, clear span and bearing are counted from the sticks around each rough
opening; only the load group, snow and building width come from the house.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.checks.codes import found
from panelgen.checks.structure.carried import LOAD_GROUPS, carried_words
from panelgen.checks.structure.sticks import FULL, WALLS, Sticks
from panelgen.model import DesignLoads, Finding, House, Member, Opening, Panel, Role

__all__ = ["Built", "Header", "built_headers", "headers"]

_SAME = 1.0
_TOLD = ("header", "opening")
"""Families of codes by which the design has said already that an opening has no header, or lacks its studs."""


@dataclass(frozen=True, slots=True)
class Header:
    """The header over an opening as built, panel coordinates, mm.

    `plies` are its sticks side by side, `x0` to `x1` and `bottom` to `top`; `jacks` and `kings` are the sticks
    under its ends and those beside them, left and right, nearest first. `under` is the wood under each end.
    """

    opening: Opening
    plies: tuple[Member, ...]
    x0: float
    x1: float
    bottom: float
    top: float
    jacks: tuple[tuple[Member, ...], tuple[Member, ...]]
    kings: tuple[int, int]
    under: tuple[float, float]
    clear: float
    is_braced: bool

    @property
    def size(self) -> str:
        """Plies and stock, such as ``2-2x8``."""
        return f"{len(self.plies)}-{self.plies[0].stock}"


_AROUND = (Role.HEADER, Role.JACK, Role.TOP_PLATE, Role.CAP_PLATE, *sorted(FULL))


class _Placed(NamedTuple):
    """A stick and its extent along and up the panel, mm."""

    member: Member
    x0: float
    x1: float
    y0: float
    y1: float


Built = Sequence[tuple[tuple[Opening, Header | None], ...]]
"""For every panel of a scene its openings, each with the header that spans it."""


def built_headers(sticks: Sticks, gap: float) -> Built:
    """Each opening of the wall panels with the header that spans it, if any; faces `gap` mm apart or less bear."""
    rows = sticks.rows(*_AROUND, in_wall=True)
    owner = sticks.scene.timber.panel[rows]
    ends = np.searchsorted(owner, np.arange(len(sticks.scene.panels) + 1)).tolist()
    table = np.column_stack((sticks.low[rows, 0], sticks.high[rows, 0], sticks.low[rows, 1], sticks.high[rows, 1]))
    found = []
    for panel, (start, end) in zip(sticks.scene.panels, pairwise(ends), strict=True):
        placed: list[_Placed] = []
        if panel.openings:
            boxes = zip(rows[start:end].tolist(), table[start:end].tolist(), strict=True)
            placed = [_Placed(sticks.member(row), *box) for row, box in boxes]
        openings = panel.openings if panel.kind in WALLS else ()
        found.append(tuple((opening, _header(opening, placed, gap)) for opening in openings))
    return found


def _header(opening: Opening, placed: Sequence[_Placed], gap: float) -> Header | None:
    over = [
        one for one in placed
        if one.member.role is Role.HEADER and one.x0 < opening.x1 and one.x1 > opening.x0 and one.y0 > opening.y1 - gap
    ]  # fmt: skip
    if not over:
        return None
    lowest = min(one.y0 for one in over)
    plies = [one for one in over if abs(one.y0 - lowest) < _SAME]
    x0, x1 = max(one.x0 for one in plies), min(one.x1 for one in plies)
    bottom, top = lowest, max(one.y1 for one in plies)
    jacks = [
        one for one in placed
        if one.member.role is Role.JACK and abs(one.y1 - bottom) <= gap and one.x1 > x0 - gap and one.x0 < x1 + gap
    ]  # fmt: skip
    middle = (opening.x0 + opening.x1) / 2
    left = sorted((one for one in jacks if one.x1 < middle), key=lambda one: -one.x1)
    right = sorted((one for one in jacks if one.x0 > middle), key=lambda one: one.x0)
    inner = (left[0].x1 if left else opening.x0, right[0].x0 if right else opening.x1)
    full = [one for one in placed if one.member.role in FULL]
    return Header(
        opening,
        tuple(one.member for one in plies),
        x0,
        x1,
        bottom,
        top,
        (tuple(one.member for one in left), tuple(one.member for one in right)),
        (_beside(x0, -1, full, gap), _beside(x1, 1, full, gap)),
        (
            sum(max(0.0, one.x1 - max(one.x0, x0)) for one in left),
            sum(max(0.0, min(one.x1, x1) - one.x0) for one in right),
        ),
        inner[1] - inner[0],
        any(
            one.member.role in (Role.TOP_PLATE, Role.CAP_PLATE)
            and abs(one.y0 - top) <= gap
            and one.x0 < x1
            and one.x1 > x0
            for one in placed
        ),
    )


def _beside(x: float, side: int, full: Sequence[_Placed], gap: float) -> int:
    """How many full-height sticks stand against `x` and one another, to the left (-1) or the right (1)."""
    count = 0
    while (one := next((one for one in full if abs((one.x1 if side < 0 else one.x0) - x) <= gap), None)) is not None:
        count, x = count + 1, one.x0 if side < 0 else one.x1
    return count


def headers(sticks: Sticks, built: Built, house: House, loads: DesignLoads, rules: RuleSet) -> Iterator[Finding]:
    """Findings about the headers of wall panels; what the design has reported itself is left out."""
    for number, (panel, openings) in enumerate(zip(sticks.scene.panels, built, strict=True)):
        if not openings:
            continue
        told = {part for finding in panel.findings if finding.code.partition(".")[0] in _TOLD for part in finding.parts}
        for opening, header in openings:
            if opening.id in told:
                continue
            if header is not None:
                yield from _kings_and_bearing(panel, header, rules, sticks, number)
                yield from _by_table(panel, header, house, loads, rules)
            elif panel.bearing or opening.width > rules.flat_header.span:
                limit = None if panel.bearing else rules.flat_header
                yield found(
                    "header.missing",
                    panel,
                    parts=(opening.id,),
                    point=((opening.x0 + opening.x1) / 2, opening.y1, 0.0),
                    value=opening.width,
                    limit=limit.span if limit else None,
                    source=limit.cited if limit else rules.title,
                    opening=opening.id,
                )


def _kings_and_bearing(panel: Panel, header: Header, rules: RuleSet, sticks: Sticks, number: int) -> Iterator[Finding]:
    yield from _bearing(panel, header, rules)
    if panel.bearing:
        yield from _kings(panel, header, rules, sticks, number)


def _by_table(panel: Panel, header: Header, house: House, loads: DesignLoads, rules: RuleSet) -> Iterator[Finding]:
    """Wood, span and jacks of a header that carries load."""
    if not panel.bearing:
        return
    ply, floors = header.plies[0], house.floors_above(panel.level)
    if not rules.structure.serves("headers", ply.species, ply.grade):
        yield _finding("header.wood", panel, header, source=rules.title, wood=f"{ply.species} {ply.grade}")
        return
    words: dict[str, Any] = {"size": header.size, "load": carried_words(panel, house)}
    cell = None
    if floors < len(LOAD_GROUPS):
        width, snow = loads.building_width, loads.ground_snow
        table = rules.header_table
        cell = table.cell(len(header.plies), ply.stock, LOAD_GROUPS[floors], snow, width, header.is_braced)
    if cell is None:
        yield _finding("header.table", panel, header, value=header.clear, source=rules.title, **words)
        return
    if header.clear > cell.span + _SAME:
        yield _finding("header.span", panel, header, value=header.clear, limit=cell.span, source=cell.cited, **words)
    for side, jacks in zip(("left", "right"), header.jacks, strict=True):
        if len(jacks) < cell.jacks:
            yield _finding(
                "header.jacks", panel, header, value=len(jacks), limit=cell.jacks, unit="", source=cell.cited, side=side
            )


def _bearing(panel: Panel, header: Header, rules: RuleSet) -> Iterator[Finding]:
    least = rules.structure.bearings["header"]
    for side, under, jacks in zip(("left", "right"), header.under, header.jacks, strict=True):
        if jacks and under < least.length - _SAME:
            yield _finding(
                "header.bearing", panel, header, value=under, limit=least.length, source=least.cited, side=side
            )


def _kings(panel: Panel, header: Header, rules: RuleSet, sticks: Sticks, number: int) -> Iterator[Finding]:
    row = rules.kings(header.clear)
    if row is not None and min(header.kings) < row.count:
        row = rules.kings(header.clear, sticks.layout(number) or None)
    for side, count in zip(("left", "right"), header.kings, strict=True):
        if row is not None and count < row.count:
            yield _finding(
                "header.kings", panel, header, value=count, limit=row.count, unit="", source=row.cited, side=side
            )


def _finding(
    code: str,
    panel: Panel,
    header: Header,
    *,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "mm",
    source: str,
    **words: Any,
) -> Finding:
    return found(
        code,
        panel,
        parts=(header.opening.id, *(ply.id for ply in header.plies)),
        point=((header.x0 + header.x1) / 2, header.bottom, panel.framing.thickness / 2),
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        opening=header.opening.id,
        **words,
    )
