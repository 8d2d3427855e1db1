"""Panels and trusses that cannot be brought to their places in the order in which the house is set."""

from __future__ import annotations

from collections.abc import Iterator

from panelgen.checks.codes import found
from panelgen.envelope.setting import blocked_panels, setting_order
from panelgen.model import Finding, House, Panel, Truss

__all__ = ["set_blocked"]

_SOURCE = "panels and trusses are set one after another, each by a straight path"


def set_blocked(house: House) -> Iterator[Finding]:
    """A finding for each panel and row of trusses without a straight path to its place; trusses come from above."""
    for one in blocked_panels(setting_order(house), house.trusses):
        other = one.by.id if isinstance(one.by, Truss) else one.by.label
        if isinstance(one.what, Panel):
            called = f"truss {other}" if isinstance(one.by, Truss) else other
            middle = (one.what.length / 2, one.what.height / 2, 0.0)
            yield found("set.blocked", one.what, parts=(other,), point=middle, source=_SOURCE, other=called)
        elif isinstance(one.by, Panel):
            middle = (one.by.length / 2, one.by.height, 0.0)
            yield found("truss.blocked", one.by, parts=(one.what.id,), point=middle, source=_SOURCE, truss=one.what.id)
