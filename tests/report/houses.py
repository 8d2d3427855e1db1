"""A house and findings for the tests of the report."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from panelgen.model import Assumption, Fasteners, Finding, House, Severity
from tests.factories import WHY, small_house, stick


def nails(count: int, on_site: bool) -> Fasteners:
    """A row of nails."""
    index = np.zeros(count, dtype=np.int64)
    return Fasteners(
        id="nails", product="16d common", length=88.9, shank=4.1, points=np.zeros((count, 3)),
        direction=(0.0, 0.0, 1.0), fastened=index, into=index, fastens_sheets=False, why=WHY, on_site=on_site,
    )  # fmt: skip


@cache
def house() -> House:
    """Two panels of two plain studs, three nails of the shop and five of the site, and the same two runs."""
    made = small_house(2, runs=1)
    studs = (stick(id="left"), stick(id="right"))
    plain = {"members": studs, "sheets": (), "openings": (), "fasteners": (nails(3, False), nails(5, True))}
    return replace(
        made,
        name="Test house",
        panels=tuple(replace(panel, **plain) for panel in made.panels),
        assumptions=(Assumption("shop.line_height", "3048 mm", "default of the spec"),),
    )


BORE = Finding(
    code="bore.edge", severity=Severity.STOP, words="The bore leaves too little wood at the edge of the stud.",
    panel="1W02", parts=("1W02-1", "feed"), point=(1282.7, 914.4, 20.0), house_point=(1282.7, 0.0, 914.4), value=9.525,
    limit=15.875, source="IRC R602.6",
)  # fmt: skip
HEAVY = Finding(
    code="panel.mass", severity=Severity.STOP, words="The panel is too heavy for the crane.", panel="1W01",
    value=1500.0, limit=1000.0, unit="kg", source="shop.panel_mass",
)  # fmt: skip
SHORT = Finding(code="member.short", severity=Severity.WARN, words="A cripple is short.", panel="1W01", value=50.0)
REMARK = Finding(code="spec.note", severity=Severity.NOTE, words="The roof is taken to bear on the exterior walls.")
WAIVED = Finding(
    code="bore.share",
    severity=Severity.STOP,
    words="The bore is too wide.",
    panel="1W01",
    waived_by="A. Engineer: tested",
)
