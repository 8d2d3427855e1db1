"""Where sticks lie along one another and are nailed through their sides: studs, plies and plates."""

from __future__ import annotations

import numpy as np

from panelgen.design.fastening.elevation import TOUCH, Elevation, role_code
from panelgen.design.fastening.laps import Laps
from panelgen.design.fastening.plies import NO_PLY, Plies
from panelgen.design.fastening.stick_joints import ABREAST, NO_JOINT, STACKED, joint_code
from panelgen.design.tables import columns, pairs_within
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import Role

__all__ = ["face_joints"]


def face_joints(sticks: Elevation, plies: Plies, lapped_left: Bools) -> Laps:
    """The laps of studs side by side, of header plies, and of plates on plates and headers.

    `lapped_left` says of each panel whether the loose piece that ties the cap plates across the joint comes
    with the panel on the left. Its lap on this panel is there too, with the plate below it as `head` and `into`.
    """
    splices = _splices_from_left(sticks, lapped_left)
    return Laps.joined((_abreast(sticks), _headers(sticks, plies), _stacked(sticks), splices))


def _abreast(sticks: Elevation) -> Laps:
    """Uprights side by side: nailed from the left, but always from the jack into the king; I-joists are not nailed."""
    upright = np.flatnonzero(sticks.built & sticks.standing & (sticks.flange == 0.0))
    a, b = pairs_within(sticks.panel[upright], sticks.panel[upright])
    left, right = upright[a], upright[b]
    joint = ABREAST[sticks.role[left], sticks.role[right]]
    met = np.flatnonzero((np.abs(sticks.x[left, 1] - sticks.x[right, 0]) < TOUCH) & (joint != NO_JOINT))
    left, right, joint = left[met], right[met], joint[met]
    back = (sticks.role[left] == role_code(Role.KING)) & (sticks.role[right] == role_code(Role.JACK))
    z0 = np.maximum(sticks.z[left, 0], sticks.z[right, 0])
    z1 = np.minimum(sticks.z[left, 1], sticks.z[right, 1])
    start = np.maximum(sticks.low[left, 1], sticks.low[right, 0])
    top = sticks.high.min(axis=1)
    face = np.where(back, sticks.x[right, 1], sticks.x[left, 0])
    return Laps(
        joint=joint,
        head=np.where(back, right, left),
        into=np.where(back, left, right),
        axis=np.ones(len(left), dtype=np.int64),
        start=start,
        stop=np.minimum(top[left], top[right]),
        origin=columns(face, start, (z0 + z1) / 2),
        along=_all(len(left), 0.0, 1.0, 0.0),
        across=_all(len(left), 0.0, 0.0, 1.0),
        drive=_all(len(left), 1.0, 0.0, 0.0) * np.where(back, -1.0, 1.0)[:, None],
        width=z1 - z0,
        depth=sticks.x[right, 1] - sticks.x[left, 0],
    )


def _headers(sticks: Elevation, plies: Plies) -> Laps:
    """Header plies: each inner one is nailed to the one outside it."""
    inner = np.flatnonzero(plies.outside != NO_PLY)
    outer = plies.outside[inner]
    start, low, high = sticks.x[inner, 0], sticks.low[inner, 0], sticks.high[inner, 0]
    return Laps(
        joint=np.full(len(inner), joint_code("header plies")),
        head=inner,
        into=outer,
        axis=np.zeros(len(inner), dtype=np.int64),
        start=start,
        stop=sticks.x[inner, 1],
        origin=columns(start, (low + high) / 2, sticks.z[inner, 0]),
        along=_all(len(inner), 1.0, 0.0, 0.0),
        across=_all(len(inner), 0.0, 1.0, 0.0),
        drive=_all(len(inner), 0.0, 0.0, 1.0),
        width=high - low,
        depth=sticks.z[outer, 1] - sticks.z[inner, 0],
    )


def _stacked(sticks: Elevation) -> Laps:
    """Plates and headers on one another, level or sloping: nailed through the plate, from above if both are plates."""
    lying = np.flatnonzero(~(sticks.standing | sticks.strap))
    a, b = pairs_within(sticks.panel[lying], sticks.panel[lying])
    under, over = lying[a], lying[b]
    joint = STACKED[sticks.role[under], sticks.role[over]]
    start = np.maximum(sticks.x[under, 0], sticks.x[over, 0])
    stop = np.minimum(sticks.x[under, 1], sticks.x[over, 1])
    middle = (start + stop) / 2
    touch = np.abs(sticks.high_at(under, middle) - sticks.low_at(over, middle)) < TOUCH
    met = np.flatnonzero(touch & (joint != NO_JOINT) & (stop - start > TOUCH))
    under, over, joint, start, stop = under[met], over[met], joint[met], start[met], stop[met]
    joint[sticks.loose[over]] = joint_code("cap plate splice")
    up = sticks.role[under] == role_code(Role.HEAD_PLATE)
    face = np.where(up, sticks.low_at(under, start), sticks.high_at(over, start))
    return _on_slope(sticks, joint, np.where(up, under, over), np.where(up, over, under), up, start, stop, face)


def _splices_from_left(sticks: Elevation, lapped_left: Bools) -> Laps:
    """The loose cap of the panel on the left covers the plate below from the joint to this panel's first cap."""
    cap = np.flatnonzero(sticks.role == role_code(Role.CAP_PLATE))
    reach = np.full(len(lapped_left), np.inf)
    np.minimum.at(reach, sticks.panel[cap], sticks.x[cap, 0])
    plate = np.flatnonzero(sticks.built & lapped_left[sticks.panel] & (sticks.role == role_code(Role.TOP_PLATE)))
    first = reach[sticks.panel[plate]]
    start, stop = sticks.x[plate, 0], np.minimum(sticks.x[plate, 1], np.where(np.isfinite(first), first, 0.0))
    covered = stop - start > TOUCH
    plate, start, stop = plate[covered], start[covered], stop[covered]
    face = 2 * sticks.high_at(plate, start) - sticks.low_at(plate, start)
    joint = np.full(len(plate), joint_code("cap plate splice from the left"))
    return _on_slope(sticks, joint, plate, plate, np.zeros(len(plate), dtype=bool), start, stop, face)


def _on_slope(
    sticks: Elevation, joint: Ints, head: Ints, into: Ints, up: Floats, start: Floats, stop: Floats, face: Floats
) -> Laps:
    """Laps of lying sticks, nailed `up` or down square to their slope; `face` is the height under the heads."""
    rise = sticks.high_rise[into]
    cosine = 1.0 / np.hypot(1.0, rise)
    zero = np.zeros_like(rise)
    z0 = np.maximum(sticks.z[head, 0], sticks.z[into, 0])
    z1 = np.minimum(sticks.z[head, 1], sticks.z[into, 1])
    plumb = sum(sticks.high[row, 0] - sticks.low[row, 0] for row in (head, into))
    normal = columns(-rise * cosine, cosine, zero)
    return Laps(
        joint=joint,
        head=head,
        into=into,
        axis=np.zeros(len(joint), dtype=np.int64),
        start=start,
        stop=stop,
        origin=columns(start, face, (z0 + z1) / 2),
        along=columns(cosine, rise * cosine, zero),
        across=_all(len(joint), 0.0, 0.0, 1.0),
        drive=np.where(up[:, None], normal, -normal),
        width=z1 - z0,
        depth=plumb * cosine,
    )


def _all(count: int, x: float, y: float, z: float) -> Floats:
    """The same vector `count` times, (count, 3)."""
    return np.full((count, 3), (x, y, z))
