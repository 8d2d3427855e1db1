"""Seats: small rectangles through which a joint's nails are driven square, end nails and crossings of straps."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.design.fastening.lines import EDGE, Nails, evenly
from panelgen.design.tables import Table
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats

__all__ = ["Seats", "nails_on"]


@dataclass(frozen=True, slots=True, eq=False)
class Seats(Table):
    """k rectangles for `count` (k,) nails of a `joint` (k,) each, driven along panel `axis` (k,).

    `sense` (k,) is +1.0 or -1.0 along it; `low` and `high` (k, 3) are the corners on the face under the
    heads. The nails go through `fastened` `into` (k,).
    """

    joint: Ints
    count: Ints
    axis: Ints
    sense: Floats
    low: Floats
    high: Floats
    fastened: Ints
    into: Ints


def nails_on(seats: Seats) -> Nails:
    """The nails of seats, spread over the longer side midway across.

    Each has an equal share of the side, but stays `EDGE` from its ends where the side is long enough.
    """
    middle, size = (seats.low + seats.high) / 2, seats.high - seats.low
    rows = np.arange(len(seats))
    longer = size.argmax(axis=1)
    half, centre = size[rows, longer] / 2, middle[rows, longer]
    inset = np.minimum(np.maximum(half / seats.count, EDGE), half)
    seat, _, at, pitch = evenly(centre - half + inset, centre + half - inset, seats.count)
    head = middle.take(seat, axis=0)
    drive, slide = np.zeros_like(head), np.zeros_like(head)
    every, longer = np.arange(len(seat)), longer[seat]
    head[every, longer] = at
    slide[every, longer] = 1.0
    drive[every, seats.axis[seat]] = seats.sense[seat]
    within, off = np.maximum(half - EDGE, 0.0)[seat], at - centre[seat]
    reach = np.where(seats.count[seat] > 1, pitch / 2, within)
    return Nails(
        kind=seats.joint[seat],
        head=head,
        drive=drive,
        slide=slide,
        back=np.minimum(np.maximum(within + off, 0.0), reach),
        ahead=np.minimum(np.maximum(within - off, 0.0), reach),
        fastened=seats.fastened[seat],
        into=seats.into[seat],
    )
