"""In which directions two panels must meet at a joint, by its kind, and along which line the joint runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.geometry.boxes import Ints, spread
from panelgen.geometry.frames import Floats, Vec3, cross, dot, scaled
from panelgen.geometry.rods import Bools
from panelgen.model import FOUNDATION, Joint, JointKind, Panel

__all__ = ["Ways"]

_UP: Vec3 = (0.0, 0.0, 1.0)

_SQUARE = 0.99
"""Faces square to a way to about 8 degrees meet along it."""

_BEARS = 0.3
"""What carries is as level as this at least, by the upward part of its unit normal: a roof of 38/12."""

_BEARING = (
    JointKind.STACKED,
    JointKind.WALL_FLOOR,
    JointKind.WALL_CEILING,
    JointKind.WALL_ROOF,
    JointKind.WALL_ON_ROOF,
    JointKind.ROOF_CEILING,
    JointKind.LAY_OVER,
    JointKind.FOUNDATION,
)
_IN_PLANE = (JointKind.FLOOR_FLOOR, JointKind.CEILING_CEILING, JointKind.ROOF_ROOF)
_LEANING = (JointKind.RIDGE, JointKind.HIP, JointKind.VALLEY)


@dataclass(frozen=True, slots=True)
class _Way:
    """One way of a joint; see `Ways`."""

    across: Vec3
    along: Vec3
    out: Vec3
    share: float = _SQUARE
    framing: bool = False
    flush: bool = False
    spare: bool = False
    sloping: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Ways:
    """w ways in which panels meet at joints: the number of the joint, and of its two panels, (w,) each.

    Faces meet along the unit vector `across` (w, 3) whose normals are along it by `share` (w,) or more; the joint
    runs `along` another. At `framing` (w,) sheets keep joints of their own and sticks count alone. Panels that are
    `flush` do not stand out of one plane, whose normal is `out` (w, 3). A joint needs no faces in a `spare` way if it
    has another. At `sloping` (w,) ones walls stand on a slope, as those of dormers do. Each joint with the foundation
    has a ground of its own, numbered after the panels.
    """

    joint: Ints
    one: Ints
    other: Ints
    across: Floats
    along: Floats
    out: Floats
    share: Floats
    framing: Bools
    flush: Bools
    spare: Bools
    sloping: Bools

    @classmethod
    def of(cls, panels: Sequence[Panel], joints: Sequence[Joint]) -> Ways:
        """The ways of all joints of two panels, and of panels with the foundation.

        What has a floor or a ceiling between it meets that, and has no way.
        """
        numbers = {panel.label: number for number, panel in enumerate(panels)}
        places, ways = [], []
        grounds = len(panels)
        for number, joint in enumerate(joints):
            one, other = (numbers.get(label, -1) for label in joint.panels)
            if joint.panels[1] == FOUNDATION:
                other, grounds = grounds, grounds + 1
            if one != other and min(one, other) >= 0 and joint.length:
                beside = panels[other] if other < len(panels) else panels[one]
                own = list(_ways(joint, panels[one], beside))
                ways += own
                places += [(number, one, other)] * len(own)
        joint_of, one_of, other_of = np.array(places, dtype=np.int64).reshape(-1, 3).T
        across, along, out = (
            np.array([(way.across, way.along, way.out) for way in ways]).reshape(-1, 3, 3).swapaxes(0, 1)
        )
        flags = np.array([(way.framing, way.flush, way.spare, way.sloping) for way in ways], dtype=bool)
        framing, flush, spare, sloping = flags.reshape(-1, 4).T
        share = np.array([way.share for way in ways])
        return cls(joint_of, one_of, other_of, across, along, out, share, framing, flush, spare, sloping)

    def __len__(self) -> int:
        return len(self.joint)

    def of_pairs(self, one: Ints, other: Ints) -> tuple[Ints, Ints]:
        """Which ways there are between panels `one` and `other` (k,), the lesser first: rows of those, and the ways."""
        if not len(self):
            return self.joint, self.joint
        most = int(max(self.one.max(), self.other.max(), one.max(initial=0), other.max(initial=0))) + 1
        keys = np.minimum(self.one, self.other) * most + np.maximum(self.one, self.other)
        order = np.argsort(keys, kind="stable")
        asked = one * most + other
        first, last = (np.searchsorted(keys[order], asked, side) for side in ("left", "right"))
        row, place = spread(first, last - first)
        return row, order[place]


def _ways(joint: Joint, one: Panel, other: Panel) -> Iterator[_Way]:
    kind = joint.kind
    x, y, z = one.frame.x, one.frame.y, one.frame.z
    if kind is JointKind.IN_LINE:
        yield _Way(x, y, z, framing=True, flush=True)
    elif kind in (JointKind.CORNER, JointKind.TEE):
        sloping = one.dormer != ""
        yield _Way(other.frame.x, _UP, z, sloping=sloping)
        if kind is JointKind.CORNER:  # sheathing laps the end of the wall that runs through
            yield _Way(x, _UP, z, spare=True, sloping=sloping)
    elif kind in _IN_PLANE:
        flush = one.wall == other.wall
        yield _Way(x, y, z, framing=True, flush=flush, spare=True)
        flush &= kind is not JointKind.ROOF_ROOF  # the rims at a cross joint are plumb and dropped as ridges are
        yield _Way(_unit((y[0], y[1], 0.0)), x, z, framing=True, flush=flush, spare=True)
    elif kind in _LEANING:
        line = _unit(cross(z, other.frame.z))
        yield _Way(_unit(cross(line, _UP)), line, z, framing=True)
    elif kind in _BEARING:
        along = joint.along if any(joint.along) else x
        yield _Way(_UP, _unit((along[0], along[1], 0.0)), z, share=_BEARS)


def _unit(vector: Vec3) -> Vec3:
    return scaled(vector, dot(vector, vector) ** -0.5)
