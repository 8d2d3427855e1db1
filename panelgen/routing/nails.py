"""Nails and screws in the way of a run.

Nails of sheets are moved along their line where a run crosses it, so they only bar runs that lie along that
line, where the heads are: on the inner sheathing. All others are taken to stay where they are, but only in the
framing: in the service cavity there are only the screws of straps, which are set anew where a strap is cut.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from panelgen.design.fastening.clearance import NAIL_CLEARANCE
from panelgen.model import Fasteners, Panel
from panelgen.routing.bodies import Body, Cause
from panelgen.routing.pipe import Pipe
from panelgen.routing.site import Site

__all__ = ["nail_obstacles"]

_AXIS = 1.0 - 1e-9
_NO_SIDE = (False, False, False)


def nail_obstacles(site: Site, pipe: Pipe, in_cavity: bool, in_framing: bool) -> Iterator[Body]:
    """The shanks of a site that may be in the way of a pipe in the service cavity or in the framing."""
    widened = max(0.0, (pipe.bore or 0.0) / 2 - max(pipe.half[0])) if in_framing else 0.0
    for panel in site.panels:
        for batch in panel.fasteners:
            margin = batch.shank / 2 + NAIL_CLEARANCE + widened
            if not batch.fastens_sheets and in_framing:
                yield from _of_sticks(panel, batch, margin)
            elif batch.fastens_sheets and in_cavity and batch.direction[2] > 0.0:
                yield from _of_sheets(panel, batch, margin)


def _of_sticks(panel: Panel, batch: Fasteners, margin: float) -> Iterator[Body]:
    heads = batch.points + np.array((panel.wall_start, 0.0, 0.0))
    points = heads + np.array(batch.direction) * batch.length
    cause = Cause(batch.id, f"nails of {batch.id}")
    least, most = np.minimum(heads, points).tolist(), np.maximum(heads, points).tolist()
    for (x0, y0, z0), (x1, y1, z1) in zip(least, most, strict=True):
        yield Body((x0, y0, z0), (x1, y1, z1), cause, margin, guides=_NO_SIDE, is_round_to_ends=True)


def _of_sheets(panel: Panel, batch: Fasteners, margin: float) -> Iterator[Body]:
    """The nails of inner sheets into each stick as one box, which bars runs along the stick."""
    order = np.argsort(batch.into, kind="stable")
    sticks = batch.into[order]
    first = np.flatnonzero(np.diff(sticks, prepend=-1))
    heads = batch.points[order] + np.array((panel.wall_start, 0.0, 0.0))
    low, high = np.minimum.reduceat(heads, first).tolist(), np.maximum.reduceat(heads, first).tolist()
    cause = Cause(batch.id, f"nails of {batch.id}")
    for stick, (x0, y0, z0), (x1, y1, _) in zip(sticks[first].tolist(), low, high, strict=True):
        x, y, z = (abs(value) > _AXIS for value in panel.members[stick].frame.x)
        bars = (x, y, z) if x or y else (True, True, True)
        yield Body((x0, y0, z0), (x1, y1, panel.framing.z0), cause, margin, bars, (False, False, True))
