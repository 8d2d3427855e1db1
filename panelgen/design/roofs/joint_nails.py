"""Nails through one stick of a roof panel into the end, or the side, of another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from panelgen.catalog import Catalog, JointNailing, RuleSet
from panelgen.design.roofs.sheet_lines import Rows
from panelgen.design.roofs.sticks import EndJoint
from panelgen.geometry.frames import Vec3, add, dot, scaled
from panelgen.model import Member

__all__ = ["joint_nails"]

_LEAST_BITE = 12.0
"""Least length (mm) of an end nail in the far stick; common practice, no source."""

_EDGE = 9.525
"""Least distance (mm) of a nail from the edge of a stick: 3/8 in., common practice, no source."""

_APART = 5.0
"""Nails from the two sides of a stick keep this far (mm) from its middle; common practice, no source."""

_PLIES = "rafter plies"

_Nail = tuple[Vec3, Vec3, int, int]


def joint_nails(
    rules: RuleSet, catalog: Catalog, joints: Sequence[EndJoint], members: Sequence[Member]
) -> dict[str, Rows]:
    """The nails of every joint of the schedule that the panel has, by its name."""
    index = {member.id: number for number, member in enumerate(members)}
    nails: dict[str, list[_Nail]] = {}
    for joint in joints:
        if joint.stick in index and joint.against in index:
            row = rules.joint(joint.joint)
            length = catalog.fastener(row.fastener).length
            ends = (index[joint.against], index[joint.stick])
            nails.setdefault(joint.joint, []).extend(_end_nails(joint, row.count, length, members, ends))
    plies = [number for name, number in index.items() if "/trimmer-" in name and name.endswith("-2")]
    for number in plies:
        row = rules.joint(_PLIES)
        inner = index[members[number].id[:-1] + "1"]
        nails.setdefault(_PLIES, []).extend(_face_nails(row, members, number, inner))
    return {name: Rows.of(rows) for name, rows in nails.items()}


def _end_nails(
    joint: EndJoint, count: int, length: float, members: Sequence[Member], ends: tuple[int, int]
) -> Iterator[_Nail]:
    """Nails along the axis of a stick, spread over the width of its end, each where the other stick is behind it."""
    through, stick = (members[k] for k in ends)
    drive = scaled(stick.frame.x, -1.0 if joint.at_end else 1.0)
    slant = abs(dot(drive, through.frame.z))
    if slant < 1e-6:
        return
    path = through.thickness / slant
    if length - path < _LEAST_BITE:
        return
    cut = stick.end if joint.at_end else stick.start
    z = stick.thickness / 2 + (_APART if joint.at_end else -_APART)
    for number in range(count):
        y = stick.width * (number + 1) / (count + 1)
        foot = stick.frame.point(stick.end_x(cut, joint.at_end, y, z), y, z)
        head = add(foot, scaled(drive, -path))
        if all(_is_on(through, point) for point in (foot, head)):
            yield head, drive, ends[0], ends[1]


def _is_on(member: Member, point: Vec3) -> bool:
    """Whether a point on the wide face of a stick keeps away from its edges and ends."""
    away = add(point, scaled(member.frame.origin, -1.0))
    x, y = dot(away, member.frame.x), dot(away, member.frame.y)
    low = max(member.end_x(member.start, False, y, z) for z in (0.0, member.thickness))
    high = min(member.end_x(member.end, True, y, z) for z in (0.0, member.thickness))
    return low + _EDGE < x < high - _EDGE and _EDGE < y < member.width - _EDGE


def _face_nails(row: JointNailing, members: Sequence[Member], outer: int, inner: int) -> Iterator[_Nail]:
    """Nails along two rafters side by side, driven from the outer one."""
    member, other = members[outer], members[inner]
    toward = 1.0 if other.frame.origin[0] > member.frame.origin[0] else -1.0
    drive = (toward, 0.0, 0.0)
    across = dot(member.frame.z, drive)
    z = 0.0 if across > 0.0 else member.thickness
    low = max(member.end_x(member.start, False, y, z) for y in (0.0, member.width)) + 50.0
    high = min(member.end_x(member.end, True, y, z) for y in (0.0, member.width)) - 50.0
    count = max(2, ceil((high - low) / row.spacing) + 1)
    for number in range(count):
        y = member.width * (0.35 + 0.3 * (number % 2))
        yield member.frame.point(low + (high - low) * number / (count - 1), y, z), drive, outer, inner
