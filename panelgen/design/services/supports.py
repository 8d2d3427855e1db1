"""Supports of runs by the greatest spacing of the rule set; a hole through a stick carries a run too."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import accumulate, chain, pairwise

import numpy as np

from panelgen.catalog import RuleSet, SupportRule
from panelgen.design.services.holes import Holes
from panelgen.design.tables import pairs_within
from panelgen.design.unfinished import Served
from panelgen.geometry.frames import Vec3
from panelgen.geometry.polylines import Polyline
from panelgen.geometry.stretches import Stretches
from panelgen.model import Box, Hardware, HardwareKind, RunPart, Why

__all__ = ["supports"]

_EPS = 1e-6
_STEEP = math.sqrt(0.5)


def supports(panels: Sequence[Served], holes: Holes, rules: RuleSet) -> list[tuple[Hardware, ...]]:
    """One support at each point where a run needs one, for runs of a size with a rule, panel by panel.

    Between two of `holes`, and from a hole to the end of the run, supports are evenly spaced and as few as the
    spacing allows; a run without holes has at least one. Beside a box there is one within the distance
    that the rule asks for.
    """
    made: list[list[Hardware]] = [[] for _ in panels]
    ruled = list(_ruled(panels, rules))
    held, lengths = _held(holes, [(number, run) for number, run, _ in ruled])
    for (number, run, rule), places, length in zip(ruled, held, lengths, strict=True):
        boxes = panels[number].boxes
        gaps = (b - a for a, b in pairwise([0.0, *places, length]))
        if places and not boxes and max(gaps) <= min(rule.horizontal, rule.vertical):
            continue
        way = Polyline.through(run.path)
        why = Why("run.support", f"no more than {_words(rule)} apart", rule.cited)
        made[number] += [
            Hardware(
                f"{panels[number].brief.label}/{run.id}/support-{count}",
                f"support for {run.product}",
                1,
                way.point_at(place),
                why,
                (run.id,),
                HardwareKind.SUPPORT,
            )
            for count, place in enumerate(_places(way, rule, places, _boxed(run, way, boxes)), start=1)
        ]
    return [tuple(found) for found in made]


def _ruled(panels: Sequence[Served], rules: RuleSet) -> Iterator[tuple[int, RunPart, SupportRule]]:
    """The number of a panel, a run in it and the rule for its size, for sizes that have one."""
    asked: dict[str, SupportRule | None] = {}
    for number, panel in enumerate(panels):
        for run in panel.runs:
            if run.product not in asked:
                size = panel.brief.catalog.service_sizes.get(run.product)
                asked[run.product] = None if size is None else rules.support(size)
            rule = asked[run.product]
            if rule is not None:
                yield number, run, rule


def _held(holes: Holes, runs: Sequence[tuple[int, RunPart]]) -> tuple[list[list[float]], list[float]]:
    """How far along each run, given with the number of its panel, its holes are, in order; and its length, mm."""
    parts: dict[tuple[int, str], list[int]] = {}
    for part, (number, run) in enumerate(runs):
        parts.setdefault((number, run.run), []).append(part)
    pairs = (
        (k, part)
        for k, (number, bore) in enumerate(zip(holes.panel.tolist(), holes.bore, strict=True))
        for name in bore.runs
        for part in parts.get((number, name), ())
    )
    hole, owner = np.fromiter(chain.from_iterable(pairs), dtype=np.int64).reshape(-1, 2).T
    stretches = Stretches.of([run.path for _, run in runs])
    pair, stretch = pairs_within(owner, stretches.path)
    way = stretches.end - stretches.start
    lengths = np.sqrt((way * way).sum(axis=1))
    square = np.where(lengths > 0.0, lengths**2, 1.0)
    offset = holes.middle[hole[pair]] - stretches.start[stretch]
    share = np.clip((offset * way[stretch]).sum(axis=1) / square[stretch], 0.0, 1.0)
    away = ((offset - share[:, None] * way[stretch]) ** 2).sum(axis=1)
    before = lengths.cumsum() - lengths
    before -= before[np.searchsorted(stretches.path, stretches.path)]
    nearest = np.lexsort((away, pair))[np.searchsorted(pair, np.arange(len(hole)))]
    held: list[list[float]] = [[] for _ in runs]
    for number, place in sorted(
        zip(owner.tolist(), (before[stretch] + share * lengths[stretch])[nearest].tolist(), strict=True)
    ):
        held[number].append(place)
    return held, np.bincount(stretches.path, lengths, len(runs)).tolist()


def _words(rule: SupportRule) -> str:
    return f"{rule.horizontal:.0f} mm level, {rule.vertical:.0f} mm upright"


def _boxed(run: RunPart, way: Polyline, boxes: Sequence[Box]) -> tuple[bool, bool]:
    """Whether the run begins and ends at a box: inside it, or no farther off than the run is thick."""

    def at_box(point: Vec3, goes_on: bool) -> bool:
        if goes_on:
            return False
        for box in boxes:
            (local,) = box.frame.to_local([point]).tolist()
            beyond = [max(-value, value - size, 0.0) for value, size in zip(local, box.size, strict=True)]
            if math.hypot(*beyond) <= run.outside_diameter + _EPS:
                return True
        return False

    return at_box(way.points[0], run.enters), at_box(way.points[-1], run.leaves)


def _places(way: Polyline, rule: SupportRule, holes: Sequence[float], boxed: tuple[bool, bool]) -> list[float]:
    """Where along a way its supports are, in order."""
    extra = []
    held = list(holes)
    if boxed[0] and rule.from_box < min([*held, way.length]):
        extra.append(rule.from_box)
    if boxed[1] and way.length - rule.from_box > max([*held, 0.0]):
        extra.append(way.length - rule.from_box)
    held = sorted([*held, *extra])
    spans = _spans(way, rule)
    if not held:
        count = max(1, math.ceil(spans[-1] - _EPS))
        wanted = [(number + 0.5) * spans[-1] / count for number in range(count)]
    else:
        wanted = []
        stops = [0.0, *np.interp(held, way.along, spans).tolist(), float(spans[-1])]
        for low, high in pairwise(stops):
            parts = math.ceil(high - low - _EPS)
            wanted += [low + (high - low) * number / parts for number in range(1, parts)]
    return sorted([*np.interp(wanted, spans, way.along).tolist(), *extra])


def _spans(way: Polyline, rule: SupportRule) -> list[float]:
    """How many spacings it is from the start of the way to each corner."""
    lengths = (
        (b - a) / (rule.vertical if abs(way.directions[stretch][1]) > _STEEP else rule.horizontal)
        for stretch, (a, b) in enumerate(pairwise(way.along))
    )
    return list(accumulate(lengths, initial=0.0))
