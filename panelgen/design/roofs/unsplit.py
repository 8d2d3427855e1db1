"""What stands in the way of the split of a roof plane, and what would help."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from panelgen.design.brief import Span
from panelgen.design.roofs.parts import PartPieces
from panelgen.design.roofs.planes import RoofPlane
from panelgen.design.split.grid import Column
from panelgen.design.split.limits import with_crane
from panelgen.design.split.lying import SIZE
from panelgen.model import Finding, Severity

__all__ = ["off_the_plane", "pinned", "unsplit"]

_EPS = 1e-6


def unsplit(pieces: PartPieces, too_long: Sequence[Column]) -> Iterator[Finding]:
    """Why a part has no legal split: it is too long up the slope, or the limits that each alone stand in the way."""
    limits, plane = pieces.limits, pieces.slope.plane
    at = list(pieces.stops.at)
    if too_long:
        height = max(float(pieces.height[0, -1, at.index(a), at.index(b)]) for a, b in (one.span for one in too_long))
        longest = max(limits.line_length, limits.line_height)
        if height > longest + _EPS:
            words = (
                f"plane {plane.id} is too long up the slope for the line and has no purlin over which its rafters "
                "could meet: give one in roofs.purlins that an engineer has sized, bear the plane on a wall, "
                "or build on a longer line"
            )
            yield _said(pieces, "panel.too-long-up", words, height, longest)
            return
    binding = pieces.grid.binding()
    ways = "move an opening, allow a smaller joint clearance, or give a purlin over which rafters may meet"
    ways = with_crane(ways, binding)
    words = (
        f"plane {plane.id} cannot be split: no set of joints on the rafter layout, clear of openings and corners, "
        f"keeps every panel within {' and '.join(binding)}; {ways}"
    )
    value, limit = pieces.span[1] - pieces.span[0], None
    if binding == (SIZE,):
        limit = limits.line_length
    yield _said(pieces, "panel.no-joint", words, value, limit)


def pinned(pieces: PartPieces) -> Iterator[Finding]:
    """Joints that the spec asks for beside an opening, where its trimmers are."""
    plane = pieces.slope.plane
    for pin in (pieces.stops.at[n] for n in pieces.stops.pins):
        for name, (low, high) in pieces.beside:
            if low + _EPS < pin < high - _EPS:
                yield Finding(
                    "panel.pin",
                    Severity.WARN,
                    f"the joint asked for in plane {plane.id} is on or too near {name}: move it",
                    parts=(plane.id,),
                    house_point=plane.frame.point(*plane.pitch.point((pin, max(pieces.runs[0], 0.0)))),
                    source="spec roofs.joints",
                )


def off_the_plane(plane: RoofPlane, spans: Sequence[Span]) -> Iterator[Finding]:
    """Joints that the spec asks for where the plane is not."""
    for joint in plane.roof.joints:
        if joint.edge == plane.edge and not any(low + _EPS < joint.at < high - _EPS for low, high in spans):
            yield Finding(
                "panel.pin",
                Severity.WARN,
                f"the joint asked for over edge {joint.edge} is not within plane {plane.id}: measure it from the start "
                "of the edge",
                parts=(plane.id,),
                house_point=plane.frame.origin,
                value=joint.at,
                source="spec roofs.joints",
            )


def _said(pieces: PartPieces, code: str, words: str, value: float, limit: float | None) -> Finding:
    plane = pieces.slope.plane
    return Finding(
        code,
        Severity.STOP,
        words,
        parts=(plane.id,),
        house_point=plane.frame.point(*plane.pitch.point((pieces.span[0], pieces.runs[0]))),
        value=value,
        limit=limit,
        source="spec shop, roofs.joints, roofs.no_joints, roofs.purlins",
    )
