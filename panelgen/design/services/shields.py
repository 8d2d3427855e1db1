"""Steel plates that keep nails and screws out of runs, wherever a run comes too near a face of wood.

A bored stick is shielded on each edge that is nearer to the hole than the rule set allows. In the service
cavity a run is shielded on the room side wherever it is too near both a strap and the face that the board
hangs on. Plates that one piece of steel does not cover take several.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from panelgen.catalog import RuleSet, ServiceTables, ShieldRule
from panelgen.design.extents import Extent, extent_of
from panelgen.design.services.holes import Holes
from panelgen.design.unfinished import Served
from panelgen.geometry.frames import Vec3, add, scaled
from panelgen.model import Bore, Hardware, HardwareKind, Layer, LayerKind, Member, Role, RunPart, Why
from panelgen.model.pieces import half_extents

__all__ = ["shields"]

_EPS = 1e-6
_STEEP = math.sqrt(0.5)


def shields(panels: Sequence[Served], holes: Holes, rules: RuleSet) -> list[tuple[Hardware, ...]]:
    """The shield plates of each panel, of which `holes` are the bores: one hardware for each crossing and face."""
    plates: list[list[Hardware]] = [[] for _ in panels]
    ruled = [
        [(run, rules.shields[run.family]) for run in panel.runs if run.family in rules.shields] for panel in panels
    ]
    by_run = {(number, run.run): (run, rule) for number, lot in enumerate(ruled) for run, rule in lot}
    farthest = max((rule.edge_distance for _, rule in by_run.values()), default=0.0)
    for k in np.flatnonzero((holes.wood < farthest).any(axis=1)).tolist():
        number = int(holes.panel[k])
        runs = [by_run[number, name] for name in holes.bore[k].runs if (number, name) in by_run]
        plates[number] += _on_edges(holes, k, runs, panels[number].brief.catalog.services)
    for panel, lot, found in zip(panels, ruled, plates, strict=True):
        found += _on_straps(panel, lot)
    return [tuple(found) for found in plates]


def _on_edges(
    holes: Holes, k: int, runs: Sequence[tuple[RunPart, ShieldRule]], tables: ServiceTables
) -> Iterator[Hardware]:
    """Plates for hole k on the edges of its stick, where those lie in the faces of the wall."""
    member, bore = holes.stick[k], holes.bore[k]
    if not runs or abs(member.frame.y[2]) < 1.0 - _EPS:
        return
    run, rule = max(runs, key=lambda one: one[1].edge_distance)
    faces = ("inner", "outer") if member.frame.y[2] > 0 else ("outer", "inner")
    for face, left, y in zip(faces, holes.wood[k].tolist(), (0.0, member.width), strict=True):
        if left >= rule.edge_distance - _EPS:
            continue
        product, count = _sized(member, bore, rule, tables)
        words = f"the hole for run {bore.run} is {left:.1f} mm from the edge, less than {rule.edge_distance:.1f} mm"
        yield Hardware(
            f"{member.id}/shield-{bore.run}@{round(bore.point[0])}-{face}",
            product,
            count,
            member.frame.point(float(holes.along[k]), y, member.thickness / 2),
            Why("shield.edge", words, rule.cited),
            (member.id, run.id),
            HardwareKind.SHIELD,
        )


def _sized(member: Member, bore: Bore, rule: ShieldRule, tables: ServiceTables) -> tuple[str, int]:
    """The plate for a hole and how many: along a stud it covers the hole, at a plate the run above or below too."""
    if member.role in (Role.BOTTOM_PLATE, Role.TOP_PLATE, Role.CAP_PLATE):
        past = 0.0 if member.role is Role.CAP_PLATE else rule.past_plate
        length, width = member.thickness + past, bore.diameter
    else:
        length, width = bore.diameter, member.thickness
    plate = tables.shield_plate(length, rule.thickness)
    return plate.name, _times(length, plate.length) * _times(width, plate.width)


def _times(size: float, step: float) -> int:
    return max(1, math.ceil((size - _EPS) / step))


_Stretch = tuple[float, float, list[str]]
"""Where along a run it is near straps, mm from its start, and the ids of the straps."""


def _on_straps(panel: Served, runs: Sequence[tuple[RunPart, ShieldRule]]) -> Iterator[Hardware]:
    """Plates on the room side of runs, one wherever a run passes straps."""
    layer = next((layer for layer in panel.brief.layers if layer.kind is LayerKind.STRAPPING), None)
    if layer is None:
        return
    inside = [(run, rule) for run, rule in runs if _comes_into(layer, run)]
    straps = [(member.id, extent_of(member)) for member in panel.members if inside and member.layer == layer.name]
    tables = panel.brief.catalog.services
    for run, rule in inside:
        start = 0.0
        for a, b in pairwise(run.path):
            length = math.dist(a, b)
            for low, high, names in _joined(_near_straps(run, rule, a, b, straps, layer)):
                plate = tables.shield_plate(high - low, rule.thickness)
                x, y, _ = add(a, scaled(add(b, scaled(a, -1.0)), (low + high) / 2 / length))
                words = f"run {run.run} passes a strap nearer than {rule.edge_distance:.1f} mm to the face of the board"
                yield Hardware(
                    f"{panel.brief.label}/{run.id}/shield@{round(start + low)}",
                    plate.name,
                    _times(high - low, plate.length) * _times(run.outside_diameter, plate.width),
                    (x, y, layer.z0),
                    Why("shield.strap", words, rule.cited),
                    (run.id, *names),
                    HardwareKind.SHIELD,
                )
            start += length


def _comes_into(layer: Layer, run: RunPart) -> bool:
    """False for a run that stays out of the depth of a layer, however it is turned."""
    radius, depths = run.outside_diameter / 2, [z for _, _, z in run.path]
    return min(depths) < layer.z1 + radius and max(depths) > layer.z0 - radius


def _near_straps(
    run: RunPart, rule: ShieldRule, a: Vec3, b: Vec3, straps: Sequence[tuple[str, Extent]], layer: Layer
) -> list[_Stretch]:
    """The stretches of a segment, by the distance from `a`, that lie too near a strap and the face of the straps.

    A run that goes through the wall rather than along it is not shielded: its own way out is there.
    """
    length = math.dist(a, b)
    if abs(b[2] - a[2]) > _STEEP * length:
        return []
    reach = half_extents(run, a, b)
    aside, up, through = (half + rule.edge_distance for half in reach)
    depths = layer.z0 - reach[2], min(layer.z0 + through, layer.z1 + reach[2])
    if max(a[2], b[2]) <= depths[0] or min(a[2], b[2]) >= depths[1]:
        return []
    bottom, top = min(a[1], b[1]) - up, max(a[1], b[1]) + up
    found: list[_Stretch] = []
    for name, strap in straps:
        if strap.y1 <= bottom or strap.y0 >= top:
            continue
        room = ((strap.x0 - aside, strap.x1 + aside), (strap.y0 - up, strap.y1 + up), depths)
        low, high = 0.0, length
        for start, end, (least, most) in zip(a, b, room, strict=True):
            rate = (end - start) / length
            if abs(rate) < _EPS:
                if not least + _EPS < start < most - _EPS:
                    high = -1.0
                continue
            enter, leave = sorted(((least - start) / rate, (most - start) / rate))
            low, high = max(low, enter), min(high, leave)
        if high - low > _EPS:
            found.append((low, high, [name]))
    return found


def _joined(stretches: Sequence[_Stretch]) -> list[_Stretch]:
    """Stretches in order, those that overlap made one."""
    joined: list[_Stretch] = []
    for low, high, names in sorted(stretches):
        if joined and low <= joined[-1][1] + _EPS:
            start, end, before = joined[-1]
            joined[-1] = (start, max(end, high), [*before, *names])
        else:
            joined.append((low, high, names))
    return joined
