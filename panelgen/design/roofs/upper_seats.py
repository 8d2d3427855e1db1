"""Where rafters are seated on a wall at their upper ends, as under the high edge of a shed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from panelgen.design.brief import Span
from panelgen.design.roofs.pitch import Pitch
from panelgen.geometry.frames import Point2
from panelgen.geometry.rings import segments
from panelgen.geometry.roof_planes import RoofLine

__all__ = ["UpperSeat", "upper_seats"]

_SAME = 1e-4


@dataclass(frozen=True, slots=True)
class UpperSeat:
    """A level wall that a plane rises over: the stretch `x` of its outer framing face, and the `run` of that, mm.

    A seat begins at the run `heel`, the face of the wall in the room, and ends at the run `toe` on the plate, which is
    as high as the underside of the rafters there; `height` is that of the plate as in `Pitch.height`.
    """

    x: Span
    run: float
    heel: float
    toe: float
    height: float


def upper_seats(
    pitch: Pitch,
    sides: Sequence[tuple[Point2, Point2, RoofLine]],
    footprint: Sequence[tuple[Point2, bool]],
    wall: tuple[float, float],
    bearing: float,
    share: float,
) -> Iterator[UpperSeat]:
    """The seats of a plane on the walls at its level high edges.

    `footprint` are the corners of the outer face of the wall framing all around, and whether the wall that starts there
    follows the roof. `wall` is how deep the framing of the walls is, and how far their face in the room is behind its
    outer side. Seats are `bearing` (mm) long on the plate, or as long as a cut leaves that takes no more than a `share`
    of a rafter.
    """
    depth, inner = wall
    tops = [max(start[1], end[1]) for start, end, line in sides if line is RoofLine.TOP]
    if not tops:
        return
    longest = share * pitch.depth / pitch.sine if pitch.sine > 0.0 else inf
    seat = min(bearing, longest - (inner - depth))
    corners = [corner for corner, _ in footprint]
    highest = max(run for _, run in corners)
    for ((xa, a), (xb, b)), (_, follows) in zip(segments(corners), footprint, strict=True):
        if follows and xb < xa and max(abs(a - b), abs(a - highest)) < _SAME and max(tops) > a - _SAME and seat > 0.0:
            toe = a - depth + seat
            yield UpperSeat((xb, xa), a, a - inner, toe, toe * pitch.tangent)
