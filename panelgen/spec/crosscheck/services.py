"""Runs, sleeves, boxes, backing and trades that are not in the wall they name."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from panelgen.spec.crosscheck.outsides import outside_depth
from panelgen.spec.crosscheck.survey import TOLERANCE, Survey, Wall
from panelgen.spec.faults import Fault
from panelgen.spec.lines import Path
from panelgen.spec.services import RunSpec

__all__ = ["bad_backing", "bad_boxes", "bad_sleeves", "bad_trades", "repeated_points", "runs_outside", "runs_too_thick"]


def repeated_points(survey: Survey) -> Iterator[Fault]:
    """A run goes somewhere at every step."""
    for n, run in enumerate(survey.house.runs):
        for k, (a, b) in enumerate(pairwise(run.path)):
            if all(_same(u, v) for u, v in zip(a, b, strict=True)):
                words = f"this point of run {run.id} is the one before it again"
                yield Fault(("runs", n, "path", k + 1), words, "take it out, or correct it")


def runs_outside(survey: Survey) -> Iterator[Fault]:
    """Every point of a wall's run is in the wall: along it, up it, and in its layers (within the run's radius)."""
    for n, run in enumerate(survey.house.runs):
        wall = survey.walls.get(run.wall or "")
        if wall is None:
            continue
        for k, (x, y, z) in enumerate(run.path):
            path = ("runs", n, "path", k)
            yield from _off_wall(survey, wall, path, x, y, f"run {run.id}")
            yield from _off_layers(survey, wall, (*path, 2), run, z)


def runs_too_thick(survey: Survey) -> Iterator[Fault]:
    """A run with its insulation is no thicker than its wall."""
    for n, run in enumerate(survey.house.runs):
        wall, depth = survey.walls.get(run.wall or ""), outside_depth(survey, run)
        depths = survey.depths.get(wall.assembly) if wall else None
        if wall and depths and depth and depth > depths.total + TOLERANCE:
            words = f"the run is thicker than wall {wall.id}, which is {survey.text(depths.total)} deep"
            field = "size" if run.diameter is None else "diameter"
            yield Fault(("runs", n, field), words, "choose a smaller run or a deeper wall", survey.text(depth))


def bad_sleeves(survey: Survey) -> Iterator[Fault]:
    """A sleeve is in its wall and serves a run of that wall, or one in house coordinates."""
    runs = {run.id: run for run in reversed(survey.house.runs)}
    for n, sleeve in enumerate(survey.house.sleeves):
        run, wall = runs.get(sleeve.run), survey.walls.get(sleeve.wall)
        if run is not None and run.wall not in (None, sleeve.wall):
            words = f"run {run.id} is in wall {run.wall}, and this sleeve in wall {sleeve.wall}"
            yield Fault(
                ("sleeves", n, "run"), words, "name a run of the sleeve's wall, or correct the wall", repr(run.id)
            )
        if wall is not None and sleeve.at is not None:
            yield from _off_wall(survey, wall, ("sleeves", n, "at"), *sleeve.at, f"sleeve {sleeve.id}")


def bad_boxes(survey: Survey) -> Iterator[Fault]:
    """The whole front of a box is on its wall."""
    for n, box in enumerate(survey.house.boxes):
        wall, product = survey.walls.get(box.wall), survey.catalog.boxes.get(box.product)
        if wall is None or product is None:
            continue
        (x, y), path = box.at, ("boxes", n, "at")
        yield from _off_wall(survey, wall, path, x, y, f"box {box.id}", product.width / 2, product.height / 2)


def bad_backing(survey: Survey) -> Iterator[Fault]:
    """Backing begins and ends on its wall, below its top."""
    for n, backing in enumerate(survey.house.backing):
        wall = survey.walls.get(backing.wall)
        if wall is None:
            continue
        what = f"backing {backing.id}"
        for field, x in (("start", backing.start), ("end", backing.end)):
            if not -TOLERANCE <= x <= wall.length + TOLERANCE:
                yield _beyond(survey, wall, ("backing", n, field), x, what)
        ends = (backing.start, backing.end)
        yield from _over_top(survey, wall, ("backing", n), ends, (backing.height, backing.end_height), what)


def bad_trades(survey: Survey) -> Iterator[Fault]:
    """What a trade hangs begins and ends on its wall, below its top."""
    for n, trade in enumerate(survey.house.trades):
        wall = survey.walls.get(trade.wall)
        if wall is None:
            continue
        what = f"trade {trade.id}"
        span = (0.0 if trade.start is None else trade.start, wall.length if trade.end is None else trade.end)
        for field, x in zip(("start", "end"), span, strict=True):
            if not -TOLERANCE <= x <= wall.length + TOLERANCE:
                yield _beyond(survey, wall, ("trades", n, field), x, what)
        if trade.height is not None:
            yield from _over_top(survey, wall, ("trades", n), span, (trade.height, trade.end_height), what)
            continue
        room = min(wall.top_at(span[0]), wall.top_at(span[1]))
        heights = [row.height for row in survey.catalog.trade_backing if row.trade == trade.hang]
        height = max((one for one in heights if one < math.inf), default=0.0)
        if height > room + TOLERANCE:
            yield _above(survey, wall, ("trades", n, "hang"), height, room, what)


def _over_top(
    survey: Survey, wall: Wall, path: Path, ends: tuple[float, float], heights: tuple[float, float | None], what: str
) -> Iterator[Fault]:
    """Rows that are above their wall at an end; a level one must be below the top at both."""
    tops = [wall.top_at(x) for x in ends]
    rooms = (min(tops), math.inf) if heights[1] is None else (tops[0], tops[1])
    for field, height, room in zip(("height", "end_height"), heights, rooms, strict=True):
        if height is not None and height > room + TOLERANCE:
            yield _above(survey, wall, (*path, field), height, room, what)


def _off_wall(
    survey: Survey, wall: Wall, path: Path, x: float, y: float, what: str, half_width: float = 0, half_height: float = 0
) -> Iterator[Fault]:
    """A thing centred at (x, y) on a wall that reaches beyond the wall's ends, top or bottom."""
    if x - half_width < -TOLERANCE or x + half_width > wall.length + TOLERANCE:
        yield _beyond(survey, wall, (*path, 0), x, what)
    room = min(wall.top_at(x - half_width), wall.top_at(x + half_width))
    if y - half_height < -TOLERANCE or y + half_height > room + TOLERANCE:
        yield _above(survey, wall, (*path, 1), y, room, what)


def _off_layers(survey: Survey, wall: Wall, path: Path, run: RunSpec, depth: float | str) -> Iterator[Fault]:
    depths, taken = survey.depths.get(wall.assembly), outside_depth(survey, run)
    if depths is None or taken is None:
        return
    z = depths.of(depth)
    if z is None:
        words = f"wall {wall.id} has no service cavity: its assembly has no strapping"
        yield Fault(path, words, "give the depth as a length, or add strapping to the assembly", repr(depth))
    elif not depths.low - taken / 2 - TOLERANCE <= z <= depths.high + taken / 2 + TOLERANCE:
        low, high = survey.text(depths.low), survey.text(depths.high)
        words = f"run {run.id} is outside the layers of wall {wall.id}, which go from {low} to {high}"
        remedy = "measure from the inner face of the framing, positive toward the weather"
        yield Fault(path, words, remedy, survey.text(z))


def _beyond(survey: Survey, wall: Wall, path: Path, x: float, what: str) -> Fault:
    words = f"{what} goes beyond the ends of wall {wall.id}, which is {survey.text(wall.length)} long"
    return Fault(path, words, "measure along the wall from its start", survey.text(x))


def _above(survey: Survey, wall: Wall, path: Path, y: float, room: float, what: str) -> Fault:
    words = f"{what} goes above or below wall {wall.id}, whose top is at {survey.text(room)} there"
    return Fault(path, words, "measure up from the bottom of the wall", survey.text(y))


def _same(a: float | str, b: float | str) -> bool:
    if isinstance(a, str) or isinstance(b, str):
        return a == b
    return abs(a - b) < TOLERANCE
