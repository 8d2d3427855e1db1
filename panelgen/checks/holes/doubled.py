"""Doubled studs: where one stands flat against another, and how many in a row are bored wide."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from panelgen.checks.codes import found
from panelgen.checks.holes.roles import STUDS
from panelgen.checks.holes.table import HoleTable
from panelgen.checks.scene import Scene
from panelgen.checks.timber import Timber
from panelgen.model import Finding

__all__ = ["CONTACT", "doubled_at", "too_many_in_a_row"]

CONTACT = 1.0
"""mm. Studs no farther apart than this stand against each other."""


def doubled_at(timber: Timber, table: HoleTable, rows: Sequence[int]) -> bool:
    """Whether another stud of the panel lies flat against this one, wide face to wide face, over these holes."""
    picked = list(rows)
    index = int(table.member[picked[0]])
    hole = np.array((table.x0[picked].min(), table.y0[picked].min()))
    far = np.array((table.x1[picked].max(), table.y1[picked].max()))
    for other in np.flatnonzero(timber.panel == timber.panel[index]).tolist():
        if other == index or timber.members[other].role not in STUDS:
            continue
        ends = np.stack((np.zeros(3), timber.sizes[other])) @ timber.axes[other] + timber.origins[other]
        local = (ends - timber.origins[index]) @ timber.axes[index].T
        low, high = local.min(axis=0), local.max(axis=0)
        against = abs(low[2] - timber.sizes[index, 2]) <= CONTACT or abs(high[2]) <= CONTACT
        if against and (low[:2] <= hole).all() and (far <= high[:2]).all():
            return True
    return False


def too_many_in_a_row(scene: Scene, wide: Sequence[int], limit: int, source: str) -> list[Finding]:
    """One finding for each row of more than `limit` doubled studs that one run bores wide, one after the other.

    `wide` are indices of bores. Studs that stand against each other are one place.
    """
    findings = []
    bores = scene.timber.bores
    timber = scene.timber
    through = {(int(timber.panel[bores.member[k]]), run) for k in wide for run in timber.runs_through(k)}
    for panel, run in sorted(through):
        for streak in _streaks(scene, panel, run, frozenset(wide)):
            if len(streak) > limit:
                rows = [k for place in streak for k in place]
                members = dict.fromkeys(timber.members[bores.member[k]].id for k in rows)
                findings.append(
                    found(
                        "bore.successive",
                        scene.panels[panel],
                        parts=(*members, run),
                        point=bores.point[streak[limit][0]],
                        value=len(streak),
                        limit=limit,
                        unit="studs",
                        source=source,
                        run=run,
                    )
                )
    return findings


def _streaks(scene: Scene, panel: int, run: str, wide: frozenset[int]) -> Iterator[list[list[int]]]:
    """Rows of places, along the panel, where `run` bores studs wide; a place is the bores of studs in contact."""
    timber = scene.timber
    bores = timber.bores
    of_run = [
        k
        for k in np.flatnonzero(timber.panel[bores.member] == panel).tolist()
        if timber.members[bores.member[k]].role in STUDS and run in timber.runs_through(k)
    ]
    of_run.sort(key=lambda k: (bores.point[k, 0], k))
    places: list[list[int]] = []
    for k in of_run:
        gap = bores.point[k, 0] - bores.point[places[-1][-1], 0] if places else np.inf
        if gap <= timber.sizes[bores.member[k], 2] + CONTACT:
            places[-1].append(k)
        else:
            places.append([k])
    streak: list[list[int]] = []
    for place in places:
        if wide.isdisjoint(place):
            yield streak
            streak = []
        else:
            streak.append(place)
    yield streak
