"""The framing of a cheek: a plate on the slope, plates under the roof that run out on it, and studs between.

Seen from the weather side a cheek is a triangle, or what is left of one in front of its highest end. All its lines
are straight, so every stick is cut in one plane at each end.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.framing.sticks import Stock, stick
from panelgen.design.roofs.sticks import EndJoint, Sticks
from panelgen.geometry.frames import Frame
from panelgen.model import EndCut, Member, Role, Why

__all__ = ["Cheek", "Line", "frame_cheek", "meet"]

_OUT = (0.0, 0.0, 1.0)
_UP = (0.0, 1.0, 0.0)
_PRACTICE = "common practice, no source"
_SOLE = Why("cheek.sole", "lies on the sheathing over the trimmers and carries the studs", _PRACTICE)
_TOP = Why("cheek.plate", "carries the rafters and runs out on the plate below", _PRACTICE)
_CAP = Why("cheek.cap", "doubles the plate under it and runs out on the plate below", _PRACTICE)
_STUD = Why("cheek.stud", "plumb stud, both ends cut to the slopes, on layout from the front", "spec framing spacing")
_END = Why("cheek.front", "closes the cheek and takes the screws to the front wall", _PRACTICE)
_BACK = Why("cheek.back", "backs the back wall", _PRACTICE)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line in elevation: its height at x = 0, and what it rises per mm of x."""

    height: float
    rise: float

    def at(self, x: float) -> float:
        """Its height at x."""
        return self.height + self.rise * x

    def moved(self, square: float) -> Line:
        """The line parallel to it, so far above, measured square to it."""
        return Line(self.height + square * math.hypot(1.0, self.rise), self.rise)


def meet(one: Line, other: Line) -> float:
    """The x at which two lines cross that are not parallel."""
    return (other.height - one.height) / (one.rise - other.rise)


@dataclass(frozen=True, slots=True)
class Cheek:
    """What a cheek is asked to be: its brief, and its lines in panel coordinates.

    `base` is the sheathing that it stands on, `top` the upper face of its plates; they meet behind. `front` is the
    panel x of the outer face of the front wall's framing, from which studs are counted, `inner` what of the cheek
    its inner sheathing covers: all, or as far as the back wall. That goes on `lining` (mm, plumb) below the base.
    Its outer sheathing laps the end of the front wall up to panel y `eave`, under the rafters there.
    """

    brief: PanelBrief
    base: Line
    top: Line
    front: float
    inner: Span
    lining: float
    eave: float

    @property
    def tip(self) -> float:
        """Panel x at which its lines meet."""
        return meet(self.base, self.top)

    @property
    def ahead(self) -> float:
        """1.0 where the cheek gets lower with x, -1.0 where it gets higher."""
        return 1.0 if self.base.rise > self.top.rise else -1.0

    @property
    def face(self) -> float:
        """Panel x of its front end."""
        return 0.0 if self.ahead > 0.0 else self.brief.length


def frame_cheek(cheek: Cheek, stock: Stock) -> Sticks:
    """Every stick of a cheek, and the joints of its studs."""
    sticks = Sticks()
    name, count, thickness = cheek.brief.wall.id, cheek.brief.assembly.framing.top_plates, stock.thickness
    on_sole = cheek.base.moved(thickness)
    sticks.add(_plate(f"{name}/sole", Role.BOTTOM_PLATE, stock, cheek, on_sole, cheek.top, _SOLE))
    for ply in range(count):
        lowest = ply == count - 1
        line = cheek.top.moved(-ply * thickness)
        role, why, word = (
            (Role.TOP_PLATE, _TOP, "top-plate") if lowest else (Role.CAP_PLATE, _CAP, f"cap-plate-{ply + 1}")
        )
        sticks.add(_plate(f"{name}/{word}", role, stock, cheek, line, on_sole, why))
    under = cheek.top.moved(-count * thickness)
    for word, x, why in _places(cheek, stock):
        left = min(max(x, 0.0), cheek.brief.length - thickness)
        made = _stud(f"{name}/{word}", stock, left, on_sole, under, cheek.brief.shop.shortest_member, why)
        if made is not None and sticks.is_free(left, left + thickness):
            sticks.standing.append(((left, left + thickness), made.id))
            joints = ((False, "sole", "bottom plate to stud"), (True, "top-plate", "top plate to stud"))
            sticks.add(made, *(EndJoint(made.id, end, f"{name}/{plate}", joint) for end, plate, joint in joints))
    return sticks


def _places(cheek: Cheek, stock: Stock) -> Iterator[tuple[str, float, Why]]:
    """The left faces of the studs: at the front, at the back wall, then on layout from the front."""
    half = stock.thickness / 2
    yield "front-stud", cheek.face - half * (1.0 - cheek.ahead), _END
    for tee in cheek.brief.tees:
        yield "back-stud", sum(tee.framing) / 2 - half, _BACK
    spacing = cheek.brief.assembly.framing.spacing
    for number in range(1, math.ceil(abs(cheek.tip - cheek.front) / spacing)):
        yield f"stud-{number}", cheek.front + cheek.ahead * number * spacing - half, _STUD


def _plate(id: str, role: Role, stock: Stock, cheek: Cheek, upper: Line, stop: Line, why: Why) -> Member:
    """A plate with its upper face on a line, plumb at the front end and cut along another line behind."""
    secant = math.hypot(1.0, upper.rise)
    along, down = (1.0 / secant, upper.rise / secant), (upper.rise / secant, -1.0 / secant)
    ends = [(cheek.face, (0.0, 1.0)), (meet(upper, stop), (1.0, stop.rise))]
    if cheek.ahead < 0.0:
        ends.reverse()
    thickness = stock.thickness
    cuts = []
    for x, (dx, dy) in ends:
        across = (dx * along[0] + dy * along[1]) / (dx * down[0] + dy * down[1])
        cuts.append((x * secant, across))
    (first, start), (last, end) = cuts
    low = first + min(0.0, start * thickness)
    high = last + max(0.0, end * thickness)
    origin = (low * along[0], upper.height + low * along[1], 0.0)
    frame = Frame(origin, (*along, 0.0), _OUT)
    ahead, behind = (EndCut(across_thickness=across) for across in (start, end))
    return stick(id, role, stock, high - low, frame, why, start=ahead, end=behind)


def _stud(id: str, stock: Stock, x: float, foot: Line, head: Line, shortest: float, why: Why) -> Member | None:
    """A plumb stud between two lines; None where one of its sides would be too short."""
    sides = [(foot.at(at), head.at(at)) for at in (x, x + stock.thickness)]
    if min(high - low for low, high in sides) < shortest:
        return None
    low, high = min(low for low, _ in sides), max(high for _, high in sides)
    start, end = (EndCut(across_thickness=line.rise) for line in (foot, head))
    return stick(id, Role.STUD, stock, high - low, Frame((x, low, 0.0), _UP, _OUT), why, start=start, end=end)
