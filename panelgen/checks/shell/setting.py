"""Panels that cannot be brought to their places in the order in which the house is set."""

from __future__ import annotations

from collections.abc import Iterator

from panelgen.checks.codes import found
from panelgen.envelope.setting import blocked_panels, setting_order
from panelgen.model import Finding, House

__all__ = ["set_blocked"]


def set_blocked(house: House) -> Iterator[Finding]:
    """A finding for each panel without a straight path to its place, from above or sideways."""
    for one in blocked_panels(setting_order(house)):
        middle = (one.panel.length / 2, one.panel.height / 2, 0.0)
        source = "panels are set one after another, each by a straight path"
        yield found("set.blocked", one.panel, parts=(one.by.label,), point=middle, source=source, other=one.by.label)
