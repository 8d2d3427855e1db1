"""Doubled rafters beside a wide opening of a roof: what their feet bring down on the wall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from panelgen.catalog import RuleSet
from panelgen.checks.structure.bearings import Borne
from panelgen.checks.structure.point_loads import PointLoad, side_by_side
from panelgen.checks.structure.sticks import Sticks
from panelgen.geometry.frames import Vec3
from panelgen.model import Opening, PanelKind, Role

__all__ = ["roof_trimmer_loads"]

_TOUCH = 2.0
"""Faces nearer than this (mm) meet; saw and setting tolerance, common practice, no source."""
_DORMER = "dormer"


def roof_trimmer_loads(borne: Sequence[Borne], sticks: Sticks, rules: RuleSet) -> Iterator[PointLoad]:
    """The feet of trimmers beside openings that are too wide for single ones, which carry little more than a rafter.

    What carries a dormer is left to an engineer.
    """
    gap = rules.structure.load_path.bearing_gap
    by_panel: dict[int, list[Borne]] = {}
    for one in borne:
        if one.panel.kind is PanelKind.ROOF and one.member.role is Role.RAFTER and one.panel.openings:
            by_panel.setdefault(int(sticks.scene.timber.panel[one.row]), []).append(one)
    for number, rafters in by_panel.items():
        by_row = {one.row: one for one in rafters}
        openings = sticks.scene.panels[number].openings
        holes = [hole for hole in openings if hole.kind != _DORMER and hole.width > rules.roof.single_trimmer + _TOUCH]
        for plies in side_by_side(sticks, list(by_row), gap):
            beside = any(_is_beside(sticks, row, hole) for row in plies for hole in holes)
            foot = _foot(by_row[plies[0]])
            if beside and len(plies) > 1 and foot is not None:
                parts = tuple(by_row[row].member.id for row in plies)
                first = by_row[plies[0]].member
                words = f"trimmer {first.mark or first.id}"
                yield PointLoad.at(foot, words, number, parts, len(plies))


def _is_beside(sticks: Sticks, row: int, hole: Opening) -> bool:
    """Whether a rafter is against the side of an opening, all along it."""
    x0, x1 = float(sticks.low[row, 0]), float(sticks.high[row, 0])
    along = sticks.low[row, 1] <= hole.y0 and sticks.high[row, 1] >= hole.y1
    return bool(along) and (abs(x1 - hole.x0) <= _TOUCH or abs(x0 - hole.x1) <= _TOUCH)


def _foot(rafter: Borne) -> Vec3 | None:
    """Where the middle line of a rafter lies over its lowest wall; None where it lies on none."""
    if not rafter.carriers:
        return None
    first, last = rafter.carriers[0 if rafter.start[2] <= rafter.end[2] else -1]
    share = (first + last) / 2 / rafter.length
    x, y, z = (a + (b - a) * share for a, b in zip(rafter.start, rafter.end, strict=True))
    return (x, y, z)
