"""Which panels a change of the spec has to do with, seen from two drafts of the house."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from itertools import product
from typing import Any

import numpy as np

from panelgen.design.brief import PanelBrief
from panelgen.design.draft import Draft
from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.planes import RoofPlane
from panelgen.design.trades.requests import Requests
from panelgen.geometry.frames import Floats, Frame
from panelgen.model import Layer

__all__ = ["Difference"]

_LAP = 1300.0
"""mm. How far along the wall beyond a panel a run can still have to do with it; plates lap joints by less."""

_REACH = 300.0
"""mm. How far in other directions; nothing is kept clear of a run by more."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """What one panel is asked to be, whatever its kind: all that it is told, where it stands, and its wall or cover."""

    told: Any
    place: tuple[object, ...]
    wall: str
    frame: Frame
    length: float
    height: float
    layers: tuple[Layer, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """From one draft of a house to the next, by labels of panels.

    `labels` are those of the next, walls first; `touched` the panels that are asked to be something else, that
    something else of the trades comes near, or that only one of the two has. `stands_alike` says whether the same
    panels stand in the same places, so that what a panel holds is all that may differ.
    """

    labels: tuple[str, ...]
    touched: frozenset[str]
    stands_alike: bool

    @classmethod
    def between(cls, old: Draft, new: Draft) -> Difference:
        """What differs."""
        before, after = dict(_asked_of(old)), dict(_asked_of(new))
        labels = {
            label
            for label, one in after.items()
            if label not in before
            or before[label].told != one.told
            or _services(old.requests, one.wall) != _services(new.requests, one.wall)
        }
        low, high = _moved(old.requests, new.requests)
        if len(low):
            labels.update(label for label, one in after.items() if _near(one, low, high))
        alike = (
            list(before) == list(after)
            and all(before[label].place == one.place for label, one in after.items())
            and [one.as_run() for one in old.walls] == [one.as_run() for one in new.walls]
            and old.meetings == new.meetings
            and old.trusses == new.trusses
        )
        return cls(tuple(after), frozenset(labels | (before.keys() - after.keys())), alike)


def _asked_of(draft: Draft) -> Iterator[tuple[str, _Asked]]:
    """The labels of all panels with what is asked of each: walls, floors and ceilings, roofs, then dormers."""
    for brief in draft.briefs:
        yield brief.label, _of_panel(brief, brief)
    for cassette in draft.cassettes:
        yield cassette.panel.label, _of_panel(cassette, cassette.panel)
    for roof in draft.roofs:
        yield roof.label, _of_roof(roof)
    for dormer in draft.dormers:
        for wall in dormer.level:
            yield wall.brief.label, _of_panel(wall, wall.brief)
        for cheek in dormer.cheeks:
            yield cheek.brief.label, _of_panel(cheek, cheek.brief)
        for roof in dormer.roofs:
            yield roof.label, _of_roof(roof)


def _of_panel(told: object, brief: PanelBrief) -> _Asked:
    place = brief.wall_start, brief.length, brief.top, brief.frame, brief.storeys_above
    return _Asked(told, place, brief.wall.id, brief.frame, brief.length, brief.height, brief.layers)


def _of_roof(brief: RoofBrief) -> _Asked:
    """A roof panel is not told what the spec says of the rest of its roof and level: its brief holds all it needs."""
    plane = brief.plane
    told = _all_but(brief, "plane"), _all_but(plane, "roof", "level"), plane.level.id
    xs, runs = zip(*(side.start for side in brief.sides), strict=True)
    place = brief.frame, brief.sides, brief.pitch
    height = (max(runs) - min(runs)) * brief.pitch.secant
    return _Asked(told, place, plane.id, brief.frame, max(xs), height, brief.layers)


def _all_but(brief: RoofBrief | RoofPlane, *names: str) -> tuple[object, ...]:
    return tuple(getattr(brief, one.name) for one in fields(brief) if one.name not in names)


def _services(requests: Requests, wall: str) -> tuple[object, ...]:
    return requests.boxes.get(wall), requests.sleeves.get(wall)


def _moved(old: Requests, new: Requests) -> tuple[Floats, Floats]:
    """The boxes in the house, (n, 3) each, of the runs and fittings that one of the two has and the other has not."""
    low, high = [], []
    for these, those in ((old, new), (new, old)):
        runs = {(run, those.clearance[run.id]) for run in those.runs}
        fittings = set(those.fittings)
        for k, run in enumerate(these.runs):
            if (run, these.clearance[run.id]) not in runs:
                low.append(these.low[k])
                high.append(these.high[k])
        points = [fitting.point for fitting in these.fittings if fitting not in fittings]
        low.extend(points)
        high.extend(points)
    return np.array(low).reshape(-1, 3), np.array(high).reshape(-1, 3)


def _near(one: _Asked, low: Floats, high: Floats) -> bool:
    """Whether one of the boxes comes near a panel."""
    inner, outer = min(layer.z0 for layer in one.layers), max(layer.z1 for layer in one.layers)
    sides = (-_LAP, one.length + _LAP), (-_REACH, one.height + _REACH), (inner - _REACH, outer + _REACH)
    corners = one.frame.to_parent(list(product(*sides)))
    return bool(((low <= corners.max(axis=0)) & (high >= corners.min(axis=0))).all(axis=1).any())
