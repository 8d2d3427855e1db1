"""Nails of cassettes: by schedule at every joint, and only in the flanges of I-joists."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from panelgen.catalog import Catalog
from panelgen.design.house import design
from panelgen.model import Panel, PanelKind, Role
from tests.design.floors.houses import FOOT, STAIR, bearing, floored

WALLS = [bearing("1M", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT))]
FLANGE = 1.5 * 25.4


def floors(**stock: object) -> list[Panel]:
    house = design(floored(openings=[STAIR], lower=WALLS, **stock))
    return [panel for panel in house.panels if panel.kind is PanelKind.FLOOR]


@pytest.fixture(scope="module")
def sawn() -> list[Panel]:
    return floors(stock="2x10", depth=9.25 * 25.4, spacing=16 * 25.4)


@pytest.fixture(scope="module")
def engineered() -> list[Panel]:
    return floors()


def joints(panel: Panel, name: str) -> Counter[tuple[int, int]]:
    """How many nails of a joint go through one stick into another."""
    pairs: Counter[tuple[int, int]] = Counter()
    for batch in panel.fasteners:
        if batch.id.split("/")[1].startswith(name):
            pairs.update(zip(batch.fastened.tolist(), batch.into.tolist(), strict=True))
    return pairs


def test_every_joist_is_nailed_to_its_rims(sawn: list[Panel]) -> None:
    count = Catalog.default().rules("irc-2021").joint("joist to rim").count
    for panel in sawn:
        found = joints(panel, "joist to rim")
        assert set(found.values()) == {count}
        at_rims = sum(
            member.role in (Role.JOIST, Role.TRIMMER) and abs(member.frame.origin[1] - 38.1) < 0.1
            for member in panel.members
        )
        assert sum(panel.members[rim].frame.origin[1] < 100.0 for rim, _ in found) == at_rims


def test_headers_and_tail_joists_are_nailed(sawn: list[Panel]) -> None:
    (panel,) = (panel for panel in sawn if panel.openings)
    headers = [k for k, member in enumerate(panel.members) if member.role is Role.HEADER]
    into = Counter(k for (_, k) in joints(panel, "header to trimmer"))
    assert all(into[k] == 2 for k in headers)
    assert joints(panel, "joist to header")
    assert len(joints(panel, "header plies")) == 2
    assert joints(panel, "joist plies")


def test_nails_into_and_through_i_joists_are_in_their_flanges(engineered: list[Panel]) -> None:
    seen = 0
    for panel in engineered:
        for batch in panel.fasteners:
            if batch.fastens_sheets or "sheathing" in batch.id:
                continue
            tips = batch.points + batch.length * np.array(batch.direction)
            for head, tip, through, into in zip(
                batch.points, tips, batch.fastened.tolist(), batch.into.tolist(), strict=True
            ):
                for member, z in ((panel.members[into], tip[2]), (panel.members[through], head[2])):
                    if member.flange:
                        assert member.flange == pytest.approx(FLANGE)
                        assert min(z, member.width - z) <= FLANGE, batch.id
                        seen += 1
    assert seen > 200


def test_each_end_of_an_i_joist_is_nailed_at_both_flanges(engineered: list[Panel]) -> None:
    for panel in engineered:
        heights: dict[tuple[int, int], set[bool]] = {}
        for batch in panel.fasteners:
            if "joist to rim" in batch.id:
                for point, pair in zip(batch.points, zip(batch.fastened, batch.into, strict=True), strict=True):
                    if panel.members[pair[1]].flange:
                        heights.setdefault((int(pair[0]), int(pair[1])), set()).add(bool(point[2] > 150.0))
        assert heights
        assert all(both == {True, False} for both in heights.values())
