"""Nails before they are sorted into batches, and how nails are spread along a line."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.catalog import Fastener
from panelgen.design.tables import Table
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats

__all__ = ["COVER", "EDGE", "Kind", "Nails", "evenly"]

COVER = 3.0
"""Least wood (mm) left beyond the point of a nail; common practice, no source."""

EDGE = 9.525
"""Least distance (mm) of a nail from the edge or end of a stick: 3/8 in., common practice, no source."""


@dataclass(frozen=True, slots=True)
class Kind:
    """What some nails are for. `words` say how they are spaced, `source` is the row of the schedule."""

    name: str
    fastener: Fastener
    words: str
    source: str
    of_sheets: bool = False
    on_site: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Nails(Table):
    """n nails. `kind` (n,) numbers what they are for; `head` and the unit `drive` (n, 3) are as in `Fasteners`.

    Each may be moved along its unit `slide` (n, 3), `back` mm against it and `ahead` mm with it, both (n,).
    `fastened` and `into` (n,) are indices of the part under the head and the stick that holds the point.
    """

    kind: Ints
    head: Floats
    drive: Floats
    slide: Floats
    back: Floats
    ahead: Floats
    fastened: Ints
    into: Ints


def evenly(low: Floats, high: Floats, count: Ints) -> tuple[Ints, Ints, Floats, Floats]:
    """`count` places on each of k lines from `low` to `high`, both ends taken; a single one goes to the middle.

    Gives, line after line, the line of each place and its number in the line from 0, where it is, and its
    distance from its neighbours, or the line's whole length where it has none, (n,) each.
    """
    line = np.arange(len(count)).repeat(count)
    number = np.arange(len(line)) - (count.cumsum() - count)[line]
    pitch = (high - low) / np.maximum(count - 1, 1)
    start = np.where(count < 2, (low + high) / 2, low)
    every = pitch[line]
    return line, number, start[line] + every * number, every
