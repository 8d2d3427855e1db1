"""Where the end of a stick meets the side of another: nailed straight through that one, or toed into it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from panelgen.design.fastening.elevation import TOUCH, Elevation
from panelgen.design.fastening.lines import COVER, EDGE, Nails, evenly
from panelgen.design.fastening.plies import NO_PLY, Plies
from panelgen.design.fastening.seats import Seats
from panelgen.design.fastening.stick_joints import END_ON, NO_JOINT, Schedule, joint_code
from panelgen.design.tables import Table, columns, pairs_within
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats

__all__ = ["end_joints"]

_LEAST_CONTACT = 12.0
"""Sticks that meet over less than this (mm) either way are not nailed there; common practice, no source."""

_LEAST_BITE = 12.0
"""Least length (mm) of an end nail in the far stick; common practice, no source."""

_TOE = math.radians(30.0)
"""Angle of a toe nail to the stick it starts on, a third of its length from the end: NDS, toe-nails, from memory."""


@dataclass(frozen=True, slots=True, eq=False)
class _Contacts(Table):
    """k places where an end of `stick` is on the side of `through`.

    `axis` (k,) is the panel axis across the plane of contact, and `sense` (k,) is +1 or -1 along it,
    toward the stick. `low` and `high` (k, 3) are the corners of the shared rectangle. `depth` (k,) is
    how thick `through` is there, `run` (k,) how long the stick is. `parts` (k,) is among how many
    rectangles the joint's nails are shared.
    """

    stick: Ints
    through: Ints
    joint: Ints
    axis: Ints
    sense: Floats
    low: Floats
    high: Floats
    depth: Floats
    run: Floats
    parts: Ints


def end_joints(sticks: Elevation, plies: Plies, schedule: Schedule) -> tuple[Seats, Nails]:
    """The seats of nails driven through one stick into the end of another, and the nails toed in instead.

    Where a nail cannot be driven for want of wood, there is none.
    """
    upright, lying = np.flatnonzero(sticks.built & sticks.standing), np.flatnonzero(sticks.built & ~sticks.standing)
    met = _Contacts.joined((_ends_of_uprights(sticks, upright, lying), _ends_of_lying(sticks, upright, lying)))
    contacts = _in_flanges(_blocks_in_line(met, sticks), sticks)
    toed = schedule.toe[contacts.joint]
    through = _driven_through(contacts.where(~toed), plies, schedule)
    return through, _toed(contacts.where(toed), sticks, plies, schedule)


def _ends_of_uprights(sticks: Elevation, upright: Ints, lying: Ints) -> _Contacts:
    """Uprights under and on lying sticks, level or sloping."""
    a, b = pairs_within(sticks.panel[upright], sticks.panel[lying])
    stick, through = upright[a], lying[b]
    joint = END_ON[sticks.role[stick], sticks.role[through]]
    x0 = np.maximum(sticks.x[stick, 0], sticks.x[through, 0])
    x1 = np.minimum(sticks.x[stick, 1], sticks.x[through, 1])
    met = np.flatnonzero((joint != NO_JOINT) & (x1 - x0 > _LEAST_CONTACT))
    stick, through, joint, x0, x1 = stick[met], through[met], joint[met], x0[met], x1[met]
    middle = (x0 + x1) / 2
    foot, head = sticks.low_at(stick, middle), sticks.high_at(stick, middle)
    under, over = sticks.low_at(through, middle), sticks.high_at(through, middle)
    is_above = np.abs(under - head) < TOUCH
    plane = np.where(is_above, head, foot)
    z0 = np.maximum(sticks.z[stick, 0], sticks.z[through, 0])
    z1 = np.minimum(sticks.z[stick, 1], sticks.z[through, 1])
    contacts = _Contacts(
        stick=stick,
        through=through,
        joint=joint,
        axis=np.ones(len(stick), dtype=np.int64),
        sense=np.where(is_above, -1.0, 1.0),
        low=columns(x0, plane, z0),
        high=columns(x1, plane, z1),
        depth=over - under,
        run=head - foot,
        parts=np.ones(len(stick), dtype=np.int64),
    )
    meets = is_above | (np.abs(over - foot) < TOUCH)
    return contacts.where(meets & (z1 - z0 > _LEAST_CONTACT))


def _ends_of_lying(sticks: Elevation, upright: Ints, lying: Ints) -> _Contacts:
    """Lying sticks between uprights: their left ends first, then their right ends."""
    a, b = pairs_within(sticks.panel[lying], sticks.panel[upright])
    stick, through = lying[a], upright[b]
    joint = END_ON[sticks.role[stick], sticks.role[through]]
    meets = np.abs(sticks.x[stick] - sticks.x[through, ::-1]).T < TOUCH
    end, met = np.nonzero(meets & (joint != NO_JOINT))
    stick, through, joint = stick[met], through[met], joint[met]
    plane = sticks.x[through, 1 - end]
    y0 = np.maximum(sticks.low[stick, end], sticks.low.max(axis=1)[through])
    y1 = np.minimum(sticks.high[stick, end], sticks.high.min(axis=1)[through])  # a bevelled stud is lower on one side
    z0 = np.maximum(sticks.z[stick, 0], sticks.z[through, 0])
    z1 = np.minimum(sticks.z[stick, 1], sticks.z[through, 1])
    contacts = _Contacts(
        stick=stick,
        through=through,
        joint=joint,
        axis=np.zeros(len(stick), dtype=np.int64),
        sense=np.where(end == 0, 1.0, -1.0),
        low=columns(plane, y0, z0),
        high=columns(plane, y1, z1),
        depth=sticks.x[through, 1] - sticks.x[through, 0],
        run=sticks.x[stick, 1] - sticks.x[stick, 0],
        parts=np.ones(len(stick), dtype=np.int64),
    )
    return contacts.where((y1 - y0 > _LEAST_CONTACT) & (z1 - z0 > _LEAST_CONTACT))


def _blocks_in_line(contacts: _Contacts, sticks: Elevation) -> _Contacts:
    """Blocks are set from left to right: one that meets a stud behind another block is toe nailed to it."""
    block = contacts.joint == joint_code("blocking to stud")
    if not block.any():
        return contacts
    left, right = np.flatnonzero(block & (contacts.sense > 0)), np.flatnonzero(block & (contacts.sense < 0))
    panel = sticks.panel[contacts.stick]
    a, b = pairs_within(panel[left], panel[right])
    one, other = left[a], right[b]
    low, high = contacts.low[:, 1:], contacts.high[:, 1:]
    apart = ((low[one] >= high[other]) | (high[one] <= low[other])).any(axis=1)
    hidden = (contacts.through[one] == contacts.through[other]) & ~apart
    joint = contacts.joint.copy()
    joint[one[hidden]] = joint_code("blocking in line")
    return replace(contacts, joint=joint)


def _in_flanges(contacts: _Contacts, sticks: Elevation) -> _Contacts:
    """Contacts with an I-joist are where its flanges are: one at each, since its web holds no nail."""
    flange = np.maximum(sticks.flange[contacts.stick], sticks.flange[contacts.through])
    if not flange.any():
        return contacts
    solid, webbed = contacts.where(flange == 0.0), contacts.where(flange > 0.0)
    flange = flange[flange > 0.0]
    has_it = sticks.flange[webbed.stick] == flange
    z = sticks.z[np.where(has_it, webbed.stick, webbed.through)]
    rooms = ((z[:, 0], z[:, 0] + flange), (z[:, 1] - flange, z[:, 1]))
    halves = [_between(webbed, *room) for room in rooms]
    there = [half.high[:, 2] - half.low[:, 2] > _LEAST_CONTACT for half in halves]
    parts = np.maximum(there[0].astype(np.int64) + there[1], 1)
    return _Contacts.joined(
        [solid, *(replace(half, parts=parts).where(held) for half, held in zip(halves, there, strict=True))]
    )


def _between(contacts: _Contacts, low: Floats, high: Floats) -> _Contacts:
    """What of contacts lies between two depths, panel z."""
    lows, highs = contacts.low.copy(), contacts.high.copy()
    lows[:, 2], highs[:, 2] = np.maximum(lows[:, 2], low), np.minimum(highs[:, 2], high)
    return replace(contacts, low=lows, high=highs)


def _driven_through(contacts: _Contacts, plies: Plies, schedule: Schedule) -> Seats:
    """The count of the schedule to each joint; the plies of a header share it, the same number to each."""
    bite = schedule.length[contacts.joint] - contacts.depth
    contacts = contacts.where((bite >= _LEAST_BITE) & (bite <= contacts.run - COVER))
    shares = plies.count[contacts.stick] * plies.count[contacts.through] * contacts.parts
    back = np.zeros_like(contacts.low)
    back[np.arange(len(contacts)), contacts.axis] = contacts.sense * contacts.depth
    return Seats(
        joint=contacts.joint,
        count=-(-schedule.count[contacts.joint] // shares),
        axis=contacts.axis,
        sense=contacts.sense,
        low=contacts.low - back,
        high=contacts.high - back,
        fastened=contacts.through,
        into=contacts.stick,
    )


def _toed(contacts: _Contacts, sticks: Elevation, plies: Plies, schedule: Schedule) -> Nails:
    """Nails aslant into the other stick, half from each side of the first; from its free sides if it is a ply."""
    total = -(-schedule.count[contacts.joint] // (plies.count[contacts.through] * contacts.parts))
    hidden = np.concatenate((plies.inside[contacts.stick], plies.outside[contacts.stick])) != NO_PLY
    count = np.where(hidden, 0, np.concatenate((total // 2, total - total // 2)))
    side = np.repeat((-1.0, 1.0), len(total))
    contacts = _Contacts.joined((contacts, contacts))
    rows = np.arange(len(count))
    thick = sticks.thick[contacts.stick]
    wide = 3 - contacts.axis - thick
    low, high = contacts.low[rows, wide], contacts.high[rows, wide]
    # The two sides keep out of each other's way: their nails are a quarter of a pitch apart.
    pitch = (high - low) / np.maximum(count, 1)
    shift = pitch / 2 + side * pitch / 8
    owner, _, place, gap = evenly(low + shift, high - pitch + shift, count)
    length = schedule.length[contacts.joint]
    start = np.maximum(length / 3, length * math.cos(_TOE) - (contacts.depth - COVER))
    every = np.arange(len(owner))
    axis, thick, wide = contacts.axis[owner], thick[owner], wide[owner]
    head = (contacts.low + contacts.high)[owner] / 2
    head[every, wide] = place
    head[every, axis] += (contacts.sense * start)[owner]
    head[every, thick] = _faces(sticks, contacts.stick, side)[owner, thick]
    drive, slide = np.zeros_like(head), np.zeros_like(head)
    drive[every, axis] = -contacts.sense[owner] * math.cos(_TOE)
    drive[every, thick] = -side[owner] * math.sin(_TOE)
    slide[every, wide] = 1.0
    reach = gap / 2
    return Nails(
        kind=contacts.joint[owner],
        head=head,
        drive=drive,
        slide=slide,
        back=np.minimum(np.maximum(place - low[owner] - EDGE, 0.0), reach),
        ahead=np.minimum(np.maximum(high[owner] - EDGE - place, 0.0), reach),
        fastened=contacts.stick[owner],
        into=contacts.through[owner],
    )


def _faces(sticks: Elevation, stick: Ints, side: Floats) -> Floats:
    """(k, 3) where the face of each stick on its `side` (-1.0 or 1.0) of each panel axis is."""
    far = (side > 0.0).astype(np.int64)
    height = np.where(side > 0.0, sticks.high[stick, 1], sticks.low[stick, 0])
    return columns(sticks.x[stick, far], height, sticks.z[stick, far])
