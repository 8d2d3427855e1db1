"""Breaks of the airtight line and of the weather barrier: edges of barrier sheets that nothing closes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from panelgen.catalog import Catalog
from panelgen.checks.codes import found
from panelgen.envelope.closing import Closing, closing
from panelgen.envelope.surfaces import barrier_layers
from panelgen.geometry.frames import Vec3
from panelgen.model import Barrier, Finding, House, Joint, JointKind, Panel, PanelKind

__all__ = ["barrier_breaks"]

_BREAK = {Barrier.AIR: "air.break", Barrier.WEATHER: "weather.break"}
_UNCLOSED = {Barrier.AIR: "air.unclosed", Barrier.WEATHER: "weather.unclosed"}
_OVERHEAD = {Barrier.AIR: (PanelKind.CEILING, PanelKind.ROOF), Barrier.WEATHER: (PanelKind.ROOF,)}
"""The panels that close a barrier at the top."""


@dataclass(slots=True)
class _Break:
    """Open stretches of one side of a panel, or at one joint: their length in all, mm, and where the longest is."""

    panel: Panel
    side: str
    joint: Joint | None
    length: float = 0.0
    longest: float = 0.0
    point: Vec3 = (0.0, 0.0, 0.0)


def barrier_breaks(house: House, catalog: Catalog) -> Iterator[Finding]:
    """A finding for every joint without a seal, and for every side of a panel that nothing closes.

    Where the spec has no panels overhead the barriers cannot be closed there: that is one remark each.
    Raises CatalogError for a seal that the catalog lacks.
    """
    for barrier in (Barrier.AIR, Barrier.WEATHER):
        whole = any(panel.kind in _OVERHEAD[barrier] for panel in house.panels)
        breaks = _breaks(house, barrier, closing(house, barrier, catalog))
        ends = [one for one in breaks if one.joint is None and not whole]
        for one in breaks:
            if one not in ends:
                yield _found(one, barrier)
        if ends:
            yield _without_shell(ends, barrier)


def _breaks(house: House, barrier: Barrier, closed: Closing) -> list[_Break]:
    panels = [panel for panel in house.panels if any(barrier_layers(panel, barrier))]
    edges, gaps = closed.edges, closed.open
    found_at: dict[tuple[int, str], _Break] = {}
    lengths = ((gaps.high - gaps.low) * edges.length[gaps.edge]).tolist()
    middles = ((gaps.high + gaps.low) / 2)[:, None]
    points = edges.start[gaps.edge] + middles * (edges.end - edges.start)[gaps.edge]
    for edge, joint, length, point in zip(gaps.edge.tolist(), gaps.joint.tolist(), lengths, points, strict=True):
        number = int(edges.panel[edge])
        side = _side(*(edges.local[edge, 1] - edges.local[edge, 0]).tolist())
        one = found_at.setdefault(
            (number, f"joint {joint}" if joint >= 0 else side),
            _Break(panels[number], side, house.joints[joint] if joint >= 0 else None),
        )
        one.length += length
        if length > one.longest:
            (local,) = panels[number].frame.to_local(point[None]).tolist()
            one.longest, one.point = length, (local[0], local[1], local[2])
    longest: dict[object, _Break] = {}
    for (number, side), one in found_at.items():
        key = one.joint or (number, side)
        if key not in longest or one.length > longest[key].length:
            longest[key] = one
    return list(longest.values())


def _side(along: float, up: float) -> str:
    """The side of a sheet on which an edge is, by its direction: rings keep their sheet on the left."""
    if abs(along) >= abs(up):
        return "lower" if along > 0.0 else "upper"
    return "right" if up > 0.0 else "left"


def _found(one: _Break, barrier: Barrier) -> Finding:
    return found(
        _BREAK[barrier],
        one.panel,
        parts=() if one.joint is None else (" | ".join(one.joint.panels),),
        point=one.point,
        value=one.length,
        limit=0.0,
        source=one.joint.why if one.joint else "the barriers of the spec's assemblies",
        barrier=barrier,
        side=one.side,
        why=_why(one.joint),
    )


def _why(joint: Joint | None) -> str:
    if joint is None:
        return "nothing that it could be sealed to is there"
    one, other = joint.panels
    if joint.kind is JointKind.SEAM:
        return "the joints between its sheets are not taped"
    if joint.kind is JointKind.OPENING:
        return f"the unit in {other} is not sealed to it"
    return f"the {joint.kind} joint of {one} and {other} has no seal"


def _without_shell(ends: list[_Break], barrier: Barrier) -> Finding:
    first = ends[0]
    return found(
        _UNCLOSED[barrier],
        first.panel,
        point=first.point,
        value=sum(one.length for one in ends),
        limit=0.0,
        source="the barriers of the spec's assemblies",
        barrier=barrier,
        count=str(len(ends)),
    )
