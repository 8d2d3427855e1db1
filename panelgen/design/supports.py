"""Supports of runs by the greatest spacing of the rule set; a hole through a stick carries a run too."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import accumulate, pairwise

import numpy as np

from panelgen.catalog import RuleSet, SupportRule
from panelgen.design.brief import PanelBrief
from panelgen.geometry.frames import Vec3, add, scaled
from panelgen.geometry.polylines import Polyline
from panelgen.model import Box, Hardware, HardwareKind, Member, RunPart, Why

__all__ = ["supports"]

_EPS = 1e-6
_STEEP = math.sqrt(0.5)


def supports(
    brief: PanelBrief, members: Sequence[Member], runs: Sequence[RunPart], boxes: Sequence[Box], rules: RuleSet
) -> tuple[Hardware, ...]:
    """One support at each point where a run needs one, for runs of a size with a rule.

    Between two holes, and from a hole to the end of the run, supports are evenly spaced and as few as the
    spacing allows; a run without holes has at least one. Beside a box there is one within the distance
    that the rule asks for.
    """
    bores = _bore_places(members)
    made = []
    for run in runs:
        size = brief.catalog.service_sizes.get(run.product)
        rule = rules.support(size) if size is not None else None
        if rule is None:
            continue
        way = Polyline.through(run.path)
        places = _places(way, rule, way.nearest_to_each(bores.get(run.run, ())), _boxed(run, way, boxes))
        why = Why("run.support", f"no more than {_words(rule)} apart", rule.cited)
        made += [
            Hardware(
                f"{brief.label}/{run.id}/support-{number}",
                f"support for {run.product}",
                1,
                way.point_at(place),
                why,
                (run.id,),
                HardwareKind.SUPPORT,
            )
            for number, place in enumerate(places, start=1)
        ]
    return tuple(made)


def _words(rule: SupportRule) -> str:
    return f"{rule.horizontal:.0f} mm level, {rule.vertical:.0f} mm upright"


def _bore_places(members: Sequence[Member]) -> Mapping[str, list[Vec3]]:
    """Middles of the bores of each run, in panel coordinates."""
    places: dict[str, list[Vec3]] = {}
    for member in members:
        for bore in member.bores:
            ahead = (member.thickness / 2 - bore.point[2]) / bore.axis[2]
            middle = member.frame.point(*add(bore.point, scaled(bore.axis, ahead)))
            for name in bore.runs:
                places.setdefault(name, []).append(middle)
    return places


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
    held = sorted(holes)
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
