"""Steel plates that keep nails and screws out of runs, wherever a run comes too near a face of wood.

A bored stick is shielded on each edge that is nearer to the hole than the rule set allows. In the service
cavity a run is shielded on the room side wherever it is too near both a strap and the face that the board
hangs on. Plates that one piece of steel does not cover take several.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from panelgen.catalog import RuleSet, ServiceTables, ShieldRule
from panelgen.design.brief import PanelBrief
from panelgen.design.extents import Extent, extent_of
from panelgen.geometry.frames import Vec3, add, scaled
from panelgen.model import Bore, Hardware, HardwareKind, Layer, LayerKind, Member, Role, RunPart, Why
from panelgen.model.pieces import half_extents

__all__ = ["shields"]

_EPS = 1e-6
_STEEP = math.sqrt(0.5)


def shields(
    brief: PanelBrief, members: Sequence[Member], runs: Sequence[RunPart], rules: RuleSet
) -> tuple[Hardware, ...]:
    """The shield plates of a panel: one piece of hardware for each crossing and face."""
    ruled = [(run, rule) for run in runs if (rule := rules.shields.get(run.family)) is not None]
    if not ruled:
        return ()
    tables = brief.catalog.services
    by_run = {run.run: (run, rule) for run, rule in ruled}
    plates = [
        plate
        for member in members
        if abs(member.frame.y[2]) >= 1.0 - _EPS
        for bore in member.bores
        for plate in _on_edges(member, bore, [by_run[name] for name in bore.runs if name in by_run], tables)
    ]
    layer = next((layer for layer in brief.layers if layer.kind is LayerKind.STRAPPING), None)
    if layer is not None:
        straps = [(member.id, extent_of(member)) for member in members if member.layer == layer.name]
        for run, rule in ruled:
            plates += _on_straps(brief.label, run, rule, straps, layer, tables)
    return tuple(plates)


def _on_edges(
    member: Member, bore: Bore, runs: Sequence[tuple[RunPart, ShieldRule]], tables: ServiceTables
) -> list[Hardware]:
    """Plates on the edges of a stick whose edges lie in the faces of the wall."""
    if not runs:
        return []
    run, rule = max(runs, key=lambda one: one[1].edge_distance)
    faces = ("inner", "outer") if member.frame.y[2] > 0 else ("outer", "inner")
    plates = []
    for face, (left, at) in zip(faces, _wood_left(member, bore), strict=True):
        if left >= rule.edge_distance - _EPS:
            continue
        product, count = _sized(member, bore, rule, tables)
        words = f"the hole for run {bore.run} is {left:.1f} mm from the edge, less than {rule.edge_distance:.1f} mm"
        plates.append(
            Hardware(
                f"{member.id}/shield-{bore.run}@{round(bore.point[0])}-{face}",
                product,
                count,
                member.frame.point(*at),
                Why("shield.edge", words, rule.cited),
                (member.id, run.id),
                HardwareKind.SHIELD,
            )
        )
    return plates


def _wood_left(member: Member, bore: Bore) -> tuple[tuple[float, Vec3], tuple[float, Vec3]]:
    """Least wood between a hole and each edge of its stick, and where on the edge, in member coordinates."""
    x, y, z = bore.point
    slopes = bore.axis[0] / bore.axis[2], bore.axis[1] / bore.axis[2]
    reach = bore.diameter / 2 * math.hypot(1.0, slopes[1])
    heights = [y + slopes[1] * (face - z) for face in (0.0, member.thickness)]
    middle = member.thickness / 2
    along = x + slopes[0] * (middle - z)
    return (
        (min(heights) - reach, (along, 0.0, middle)),
        (member.width - max(heights) - reach, (along, member.width, middle)),
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


def _on_straps(
    label: str,
    run: RunPart,
    rule: ShieldRule,
    straps: Sequence[tuple[str, Extent]],
    layer: Layer,
    tables: ServiceTables,
) -> list[Hardware]:
    """Plates on the room side of a run, one wherever it passes straps."""
    plates = []
    start = 0.0
    for a, b in pairwise(run.path):
        length = math.dist(a, b)
        for low, high, names in _joined(_near_straps(run, rule, a, b, straps, layer)):
            plate = tables.shield_plate(high - low, rule.thickness)
            x, y, _ = add(a, scaled(add(b, scaled(a, -1.0)), (low + high) / 2 / length))
            words = f"run {run.run} passes a strap nearer than {rule.edge_distance:.1f} mm to the face of the board"
            plates.append(
                Hardware(
                    f"{label}/{run.id}/shield@{round(start + low)}",
                    plate.name,
                    _times(high - low, plate.length) * _times(run.outside_diameter, plate.width),
                    (x, y, layer.z0),
                    Why("shield.strap", words, rule.cited),
                    (run.id, *names),
                    HardwareKind.SHIELD,
                )
            )
        start += length
    return plates


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
