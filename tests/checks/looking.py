"""Short ways to ask what the checks find."""

from __future__ import annotations

from collections.abc import Callable

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.checks.scene import Scene
from panelgen.model import Finding, House, Panel

CATALOG = Catalog.default()
RULES = CATALOG.rules("irc-2021")


def seen(check: Callable[..., list[Finding]], panel: Panel, *more: object) -> list[Finding]:
    """What one check finds in a panel."""
    return check(Scene.of((panel,)), *more)


def about(findings: list[Finding] | tuple[Finding, ...]) -> list[tuple[str, ...]]:
    """Code and parts of each finding."""
    return [(finding.code, *finding.parts) for finding in findings]


def in_house(house: House, *codes: str) -> list[Finding]:
    """The findings of a whole house, only those of `codes` where any are given."""
    return [finding for finding in check_house(house, CATALOG) if not codes or finding.code in codes]
