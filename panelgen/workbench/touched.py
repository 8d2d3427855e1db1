"""Which panels a change of the spec has to do with, seen from two drafts of the house."""

from __future__ import annotations

from dataclasses import fields
from itertools import product

import numpy as np

from panelgen.design.brief import PanelBrief
from panelgen.design.draft import Draft
from panelgen.design.trades.requests import Requests
from panelgen.geometry.frames import Floats

__all__ = ["stand_alike", "touched"]

_SEEN = frozenset({"walls", "splits", "briefs", "cassettes", "requests", "notes"})
"""Fields of a draft that are looked into here; of others, any difference is one of the whole house."""

_LAP = 1300.0
"""mm. How far along the wall beyond a panel a run can still have to do with it; plates lap joints by less."""

_REACH = 300.0
"""mm. How far in other directions; nothing is kept clear of a run by more."""


def stand_alike(old: Draft, new: Draft) -> bool:
    """Whether the same panels stand in the same places, so that what a panel holds is all that may differ."""
    return (
        [one.as_run() for one in old.walls] == [one.as_run() for one in new.walls]
        and list(map(_place, _panels(old))) == list(map(_place, _panels(new)))
        and all(getattr(old, one.name) == getattr(new, one.name) for one in fields(Draft) if one.name not in _SEEN)
    )


def touched(old: Draft, new: Draft) -> frozenset[str]:
    """Labels of the panels that are asked to be something else, or that something else of the trades comes near."""
    whole = zip((*old.briefs, *old.cassettes), (*new.briefs, *new.cassettes), _panels(new), strict=True)
    labels = {
        brief.label
        for before, after, brief in whole
        if before != after or _asked(old.requests, brief.wall.id) != _asked(new.requests, brief.wall.id)
    }
    low, high = _moved(old.requests, new.requests)
    if len(low):
        labels.update(brief.label for brief in _panels(new) if _near(brief, low, high))
    return frozenset(labels)


def _panels(draft: Draft) -> tuple[PanelBrief, ...]:
    """The briefs of walls, then those of floors and ceilings."""
    return (*draft.briefs, *(one.panel for one in draft.cassettes))


def _place(brief: PanelBrief) -> tuple[object, ...]:
    return brief.label, brief.wall_start, brief.length, brief.top, brief.frame, brief.storeys_above


def _asked(requests: Requests, wall: str) -> tuple[object, ...]:
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


def _near(brief: PanelBrief, low: Floats, high: Floats) -> bool:
    """Whether one of the boxes comes near the panel of a brief."""
    inner, outer = min(layer.z0 for layer in brief.layers), max(layer.z1 for layer in brief.layers)
    sides = (-_LAP, brief.length + _LAP), (-_REACH, brief.height + _REACH), (inner - _REACH, outer + _REACH)
    corners = brief.frame.to_parent(list(product(*sides)))
    return bool(((low <= corners.max(axis=0)) & (high >= corners.min(axis=0))).all(axis=1).any())
