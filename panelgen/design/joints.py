"""Which panels of a house meet, and what the crew does there: seals by kind of joint, or as the spec asks."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from panelgen.catalog import Catalog
from panelgen.design.walls.junctions import Meeting
from panelgen.envelope.bodies import contacts, frames_of
from panelgen.geometry.frames import Vec3, add, dot, scaled
from panelgen.model import FOUNDATION, Barrier, Finding, Joint, JointKind, Panel, PanelKind, Severity
from panelgen.spec.seals import NO_SEAL, SealSpec

__all__ = ["joints_of"]

_TOUCH = 8.0
"""Panels this near (mm) meet: the gap of a joint and what sheathing laps; common practice, no source."""

_LEAST = 50.0
"""Panels that meet over less than this (mm) touch at a corner only; common practice, no source."""

_OUT_OF_LINE = 60.0
"""Walls whose framing is no farther aside (mm) are in one line; common practice, no source."""

_PARALLEL = 1.0 - 1e-6

_FLOOR_DEPTH = 610.0
"""The deepest floor (mm) across which one wall stands on another; common practice, no source."""

_WALLS = (PanelKind.EXTERIOR_WALL, PanelKind.INTERIOR_WALL)

_ACROSS = {
    frozenset((PanelKind.FLOOR,)): JointKind.FLOOR_FLOOR,
    frozenset((PanelKind.CEILING,)): JointKind.CEILING_CEILING,
    frozenset((PanelKind.CEILING, PanelKind.ROOF)): JointKind.ROOF_CEILING,
}
_ON_WALL = {
    PanelKind.FLOOR: JointKind.WALL_FLOOR,
    PanelKind.CEILING: JointKind.WALL_CEILING,
    PanelKind.ROOF: JointKind.WALL_ROOF,
}


def joints_of(
    panels: Sequence[Panel], meetings: Sequence[Meeting], rules: Sequence[SealSpec], catalog: Catalog
) -> tuple[tuple[Joint, ...], tuple[Finding, ...]]:
    """Every joint of a house: of walls, of panels that touch, on the foundation, at units, and seams within panels.

    Rules that fit no joint are findings. Raises CatalogError for a seal that the catalog lacks.
    """
    found = [
        *_along_walls(panels),
        *_at_meetings(panels, meetings),
        *_touching(panels),
        *_stacked(panels),
        *_over_ceilings(panels),
        *_on_foundation(panels),
        *_at_units(panels),
        *_seams(panels),
    ]
    findings = [_unused(number) for number, rule in enumerate(rules) if not any(_fits(rule, joint) for joint in found)]
    return tuple(_settled(joint, rules, catalog) for joint in found), tuple(findings)


def _fits(rule: SealSpec, joint: Joint) -> bool:
    if rule.joint is not None and rule.joint != joint.kind:
        return False
    return rule.between is None or frozenset(rule.between) == frozenset(joint.panels)


def _unused(number: int) -> Finding:
    words = f"seals[{number}] of the spec fits no joint: name two panels that meet, or a kind that the house has"
    return Finding("seal.unused", Severity.WARN, words, source=f"spec seals[{number}]")


def _settled(joint: Joint, rules: Sequence[SealSpec], catalog: Catalog) -> Joint:
    """The joint with its seals and fasteners: the catalog's for its kind, then what the spec says, later rules last."""
    usual = catalog.panel_joint(joint.kind)
    air, weather, why = usual.air, usual.weather, usual.cited
    for number, rule in enumerate(rules):
        if not _fits(rule, joint):
            continue
        air = air if rule.air is None else _product(rule.air, catalog)
        weather = weather if rule.weather is None else _product(rule.weather, catalog)
        why = f"spec seals[{number}]"
    return replace(joint, air=air, weather=weather, fastener=usual.fastener, spacing=usual.spacing, why=why)


def _product(name: str, catalog: Catalog) -> str:
    return "" if name == NO_SEAL else catalog.seal(name).name


def _along_walls(panels: Sequence[Panel]) -> Iterator[Joint]:
    """Neighbours in one wall."""
    for left, right in itertools.pairwise(panels):
        if left.wall == right.wall and left.kind in _WALLS and _ends_at(left, right.wall_start):
            tall = min(_height_at(left, left.length), _height_at(right, 0.0))
            yield Joint(
                JointKind.IN_LINE, (left.label, right.label), right.frame.origin, length=tall, along=left.frame.y
            )


def _height_at(panel: Panel, x: float) -> float:
    """How high the framing of a wall is at one of its ends, or at the nearer one."""
    end = 0.0 if x < panel.length / 2 else panel.length
    return max((y for at, y in panel.profile if abs(at - end) < _OUT_OF_LINE), default=panel.height)


def _ends_at(panel: Panel, x: float) -> bool:
    return abs(panel.wall_start + panel.length - x) < 1e-6


def _at_meetings(panels: Sequence[Panel], meetings: Sequence[Meeting]) -> Iterator[Joint]:
    """Corners and tees of walls, by the panels that touch there."""
    by_wall: dict[str, list[Panel]] = {}
    for panel in panels:
        by_wall.setdefault(panel.wall, []).append(panel)
    for meeting in meetings:
        through, butt = (_nearest(by_wall[wall], meeting) for wall in (meeting.through, meeting.butt))
        point = (*meeting.at, through.frame.origin[2])
        tall = min(through.height, _height_at(butt, butt.frame.to_local(np.array([point]))[0, 0]))
        up = through.frame.y
        yield Joint(JointKind(meeting.kind), (through.label, butt.label), point, length=tall, along=up)


def _nearest(row: Sequence[Panel], meeting: Meeting) -> Panel:
    def distance(panel: Panel) -> float:
        origin, x = panel.frame.origin, panel.frame.x
        along = (meeting.at[0] - origin[0]) * x[0] + (meeting.at[1] - origin[1]) * x[1]
        return max(-along, along - panel.length, 0.0)

    return min(row, key=distance)


def _touching(panels: Sequence[Panel]) -> Iterator[Joint]:
    """Panels that touch and are not both walls."""
    for i, j, start, end in contacts(panels, _TOUCH):
        one, other = panels[i], panels[j]
        kind = _kind(one, other, start, end)
        if kind is not None:
            yield _between(kind, one, other, start, end)


def _between(kind: JointKind, one: Panel, other: Panel, start: Vec3, end: Vec3) -> Joint:
    """A joint along a line."""
    length = math.dist(start, end)
    along = scaled(add(end, scaled(start, -1.0)), 1.0 / length)
    return Joint(kind, (one.label, other.label), scaled(add(start, end), 0.5), length=length, along=along)


def _kind(one: Panel, other: Panel, start: Vec3, end: Vec3) -> JointKind | None:
    """What panels that meet along a line make there; None for two walls, and for what never is a joint."""
    if one.kind in _WALLS or other.kind in _WALLS:
        if PanelKind.ROOF in (one.kind, other.kind) and one.dormer != other.dormer:
            return JointKind.WALL_ON_ROOF
        return _ON_WALL.get(other.kind if one.kind in _WALLS else one.kind)
    if one.kind is other.kind is PanelKind.ROOF:
        return _of_roofs(one, other, start, end)
    return _ACROSS.get(frozenset((one.kind, other.kind)))


def _of_roofs(one: Panel, other: Panel, start: Vec3, end: Vec3) -> JointKind | None:
    """Roof panels of one plane, of two that meet at a ridge, hip or valley, or of a dormer and what it lies over.

    None where two panels of one plane are cornerwise: their plumb ends reach past one another and share no side.
    """
    if one.dormer != other.dormer:
        return JointKind.LAY_OVER
    if dot(one.frame.z, other.frame.z) > _PARALLEL:
        shared = add(end, scaled(start, -1.0))
        past = one.framing.thickness * abs(one.frame.y[2] / one.frame.z[2]) + _LEAST
        beside = abs(dot(shared, one.frame.x)) < _LEAST and abs(dot(shared, one.frame.y)) < past
        return None if beside else JointKind.ROOF_ROOF
    x, y = (sum(column) / len(other.profile) for column in zip(*other.profile, strict=True))
    away = add(other.frame.point(x, y, 0.0), scaled(one.frame.origin, -1.0))
    if dot(away, one.frame.z) > 0.0:
        return JointKind.VALLEY
    return JointKind.RIDGE if abs(end[2] - start[2]) < _TOUCH else JointKind.HIP


def _stacked(panels: Sequence[Panel]) -> Iterator[Joint]:
    """Exterior walls over one another in one line, with no more than a floor between them; dormers stand on a roof."""
    walls = [panel for panel in panels if panel.kind is PanelKind.EXTERIOR_WALL and not panel.dormer]
    if not walls:
        return
    origins, axes = frames_of(walls)
    length, height = np.array([(wall.length, wall.height) for wall in walls]).T
    # From each wall, by row, to where each one over it, by column, begins and ends.
    begin = np.einsum("abj,aij->abi", origins - origins[:, None], axes)
    ahead = np.einsum("bj,aij->abi", axes[:, 0] * length[:, None], axes)
    gap = begin[..., 1] - height[:, None]
    shared = np.minimum(begin[..., 0] + ahead[..., 0], length[:, None]) - np.maximum(begin[..., 0], 0.0)
    over = (gap > -_TOUCH) & (gap <= _FLOOR_DEPTH) & (np.abs(begin[..., 2]) <= _OUT_OF_LINE) & (shared > _LEAST)
    for low, high in np.argwhere(over).tolist():
        lower, upper = walls[low], walls[high]
        middle = max(float(begin[low, high, 0]), 0.0) + float(shared[low, high]) / 2
        yield Joint(
            JointKind.STACKED,
            (lower.label, upper.label),
            lower.frame.point(middle, lower.height, 0.0),
            length=float(shared[low, high]) if gap[low, high] < _TOUCH else 0.0,
            along=lower.frame.x,
        )


def _over_ceilings(panels: Sequence[Panel]) -> Iterator[Joint]:
    """Exterior walls and the roof panels over them, where a ceiling lies between."""
    if all(panel.kind is not PanelKind.CEILING for panel in panels):
        return
    shell = [panel for panel in panels if panel.kind in (PanelKind.EXTERIOR_WALL, PanelKind.ROOF) and not panel.dormer]
    near = {(i, j) for i, j, _, _ in contacts(shell, _TOUCH)}
    for i, j, start, end in contacts(shell, _FLOOR_DEPTH):
        if shell[i].kind is not shell[j].kind and (i, j) not in near:
            yield replace(_between(JointKind.WALL_ROOF, shell[i], shell[j], start, end), length=0.0)


def _on_foundation(panels: Sequence[Panel]) -> Iterator[Joint]:
    """Exterior walls and floors that nothing lower is under."""
    lowest = min((panel.frame.origin[2] for panel in panels), default=0.0)
    for panel in panels:
        if panel.kind in (PanelKind.EXTERIOR_WALL, PanelKind.FLOOR) and panel.frame.origin[2] - lowest < _TOUCH:
            middle = panel.frame.point(panel.length / 2, 0.0, 0.0)
            yield Joint(JointKind.FOUNDATION, (panel.label, FOUNDATION), middle, length=panel.length)


def _at_units(panels: Sequence[Panel]) -> Iterator[Joint]:
    """Panels and the units in their openings; on that of a dormer its walls stand."""
    dormers = dict.fromkeys(panel.dormer for panel in panels)
    for panel in panels:
        if any(layer.barrier is not Barrier.NONE for layer in panel.layers):
            for hole in (one for one in panel.openings if one.id not in dormers):
                middle = panel.frame.point((hole.x0 + hole.x1) / 2, (hole.y0 + hole.y1) / 2, 0.0)
                around = 2 * (hole.width + hole.height)
                yield Joint(JointKind.OPENING, (panel.label, hole.id), middle, length=around)


def _seams(panels: Sequence[Panel]) -> Iterator[Joint]:
    """The joints between the sheets of a panel, as one."""
    for panel in panels:
        barriers = {layer.name for layer in panel.layers if layer.barrier is not Barrier.NONE}
        if sum(sheet.layer in barriers for sheet in panel.sheets) > 1:
            middle = panel.frame.point(panel.length / 2, panel.height / 2, 0.0)
            yield Joint(JointKind.SEAM, (panel.label, panel.label), middle)
