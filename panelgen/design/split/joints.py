"""Where along a wall its panels may meet: on the stud layout, clear of everything a joint would cut through."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.brief import PanelBrief, Span
from panelgen.design.framing.headers import header_over
from panelgen.design.framing.posts import BITE
from panelgen.design.services.runs import Space
from panelgen.design.trades.requests import Requests
from panelgen.model import Fitting, RunPart

__all__ = ["Keep", "joint_places", "kept_clear", "service_keeps", "space_of"]

_EPS = 1e-6


class Keep(NamedTuple):
    """A stretch of a wall, panel x in mm, that joints keep off, and what is there."""

    start: float
    stop: float
    what: str


def kept_clear(whole: PanelBrief, rules: RuleSet) -> tuple[Keep, ...]:
    """What of the wall itself joints keep off: openings with their studs, and the walls that meet it with their posts.

    `whole` is the brief of the wall as if it were one panel. Each panel has an end stud at a joint, so that there
    is always room for one beside the studs and posts.
    """
    stud = whole.catalog.stock(whole.assembly.framing.stock).thickness
    clearance = whole.shop.joint_clearance
    keeps = []
    for hole in whole.openings:
        choice, _ = header_over(whole, hole, rules)
        room = max(clearance, (choice.jacks + choice.kings + 1) * stud)
        keeps.append(Keep(hole.x0 - room, hole.x1 + room, f"opening {hole.id}"))
    for tee in (*whole.tees, *whole.corners):
        room = max(clearance, BITE + stud)
        low, high = min(tee.span[0], tee.framing[0]), max(tee.span[1], tee.framing[1])
        keeps.append(Keep(low - room, high + room, f"wall {tee.wall}"))
    return tuple(keeps)


def space_of(whole: PanelBrief) -> Space:
    """The room that a wall takes."""
    low, high = min(layer.z0 for layer in whole.layers), max(layer.z1 for layer in whole.layers)
    return Space(whole.frame, (0.0, 0.0, low), (whole.length, whole.height, high))


def service_keeps(
    owner: str,
    start: float,
    stick: float,
    space: Space,
    runs: Iterable[RunPart],
    requests: Requests,
    catalog: Catalog,
) -> tuple[Keep, ...]:
    """The stretches where a joint would fall on a service: a run that does not go along the layout, a fitting, a box or
    a sleeve. They keep clear of the sticks, `stick` thick (mm), on both sides of the joint.

    `owner` is the wall, floor, ceiling or roof plane, `space` its room and `runs` their parts in it; boxes and sleeves
    are measured from where the spec starts it, `start` (mm) before that room.
    """
    found = [keep for part in runs for keep in _across(part)]
    found += [Keep(*_reach(fitting), f"fitting {fitting.id}") for fitting in requests.fittings_in(space)]
    for box in requests.boxes.get(owner, ()):
        half, x = catalog.box(box.product).width / 2, box.at[0] - start
        found.append(Keep(x - half, x + half, f"box {box.id}"))
    for sleeve in requests.sleeves.get(owner, ()):
        if sleeve.at is None:  # it goes where its run does, which is kept clear of
            continue
        half, x = catalog.sleeve(sleeve.product).outside / 2, sleeve.at[0] - start
        found.append(Keep(x - half, x + half, f"sleeve {sleeve.id}"))
    return tuple(Keep(keep.start - stick, keep.stop + stick, keep.what) for keep in found)


def _across(part: RunPart) -> Iterator[Keep]:
    """The stretches of a run that go along the sticks or through the layers rather than along the layout."""
    half = part.outside_diameter / 2
    for a, b in pairwise(part.path):
        along = abs(b[0] - a[0])
        if along < max(abs(b[1] - a[1]), abs(b[2] - a[2])):
            yield Keep(min(a[0], b[0]) - half, max(a[0], b[0]) + half, f"run {part.run}")


def _reach(fitting: Fitting) -> Span:
    """How far a fitting reaches along the layout."""
    x, half = fitting.point[0], fitting.diameter / 2
    reach = (-half, half, *(arm[0] for arm in fitting.arms))
    return x + min(reach), x + max(reach)


def joint_places(whole: PanelBrief, keeps: Sequence[Keep], forbidden: Sequence[Span]) -> tuple[float, ...]:
    """The layout lines of a wall, panel x (mm), where panels may meet, left to right."""
    shortest = whole.shop.shortest_panel - _EPS
    barred = [*((low + _EPS, high - _EPS) for low, high, _ in keeps), *forbidden]
    return tuple(
        x
        for x in whole.layout
        if shortest <= x <= whole.length - shortest and not any(low < x < high for low, high in barred)
    )
