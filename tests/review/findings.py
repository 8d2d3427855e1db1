"""A house made by hand and findings about its parts, for the tests of grouping, pictures and topics."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from panelgen.model import Finding, House, Opening, Panel, Severity
from tests.factories import WHY, small_house

STOP, WARN, NOTE = Severity.STOP, Severity.WARN, Severity.NOTE


@cache
def house() -> House:
    """Three panels 400 mm apart with the runs r0, r1 and vent, and a window of its own in each."""
    made = small_house(3)
    return replace(made, panels=tuple(_with_window(panel, f"W{k}") for k, panel in enumerate(made.panels, start=1)))


def found(
    code: str, panel: str = "1W01", *parts: str, at: tuple[float, float] | None = None, **changes: object
) -> Finding:
    """A stop finding of that code, at (x, y) of the panel."""
    point = None if at is None else (*at, 60.0)
    plain = Finding(code, STOP, f"words of {code}", panel, parts, point, None, 9.5, 15.9, source="the source")
    return replace(plain, **changes)


def _with_window(panel: Panel, id: str) -> Panel:
    window = Opening(id, "window", 1524.0, 2724.0, 914.4, 2057.4, 1180.0, 1120.0, None, WHY)
    return replace(panel, openings=(window,))
