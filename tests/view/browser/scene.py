"""What the browser tests look at: a house of three panels with findings, and ways to compare pictures of it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from panelgen import api
from panelgen.model import Finding, House, Severity
from tests.factories import small_house
from tests.project.tree import ROOT

__all__ = ["SKY", "changed", "findings", "house", "of_colour", "stud"]

SKY = (244, 246, 248)
"""The background in the light theme."""


@cache
def house() -> House:
    """One designed wall between two drawn ones, side by side, so that there is a house to come back to."""
    (wall,) = api.design(api.load(ROOT / "examples" / "one-wall.yaml")).panels
    first, _, last = small_house(3).panels
    starts = (0.0, first.length, first.length + wall.length)
    panels = tuple(
        replace(panel, label=f"1W0{n}", frame=replace(wall.frame, origin=wall.frame.point(start, 0.0, 0.0)))
        for n, (panel, start) in enumerate(zip((first, wall, last), starts, strict=True), 1)
    )
    return replace(small_house(3), panels=panels)


def stud() -> str:
    """The id of a common stud of the designed wall."""
    return next(member.id for member in house().panels[1].members if member.why.rule == "stud.layout")


def findings() -> tuple[Finding, ...]:
    """One with a spot and a part, one about a panel, and two with one cause."""
    first, designed, _ = (panel.label for panel in house().panels)
    bore = Finding("bore.edge", Severity.WARN, "too near the edge", designed, ("1X/end",), (2000.0, 900.0, 60.0))
    return (
        Finding("run.member", Severity.STOP, "a run meets wood", designed, (stud(),), (1500.0, 400.0, 60.0)),
        Finding("panel.mass", Severity.WARN, "too heavy", first),
        bore,
        replace(bore, point=(2000.0, 1200.0, 60.0)),
    )


def changed(before: np.ndarray, after: np.ndarray) -> int:
    """How many pixels differ plainly."""
    return int((np.abs(before - after).max(axis=2) > 24).sum())


def of_colour(pixels: np.ndarray, colour: tuple[int, int, int]) -> int:
    """How many pixels have that colour."""
    return int((np.abs(pixels - colour).max(axis=2) <= 1).sum())
