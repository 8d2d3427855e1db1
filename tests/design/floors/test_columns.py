"""Fields are split the best way there is: as trying every split finds, within what line, truck and crane take."""

from __future__ import annotations

from itertools import combinations, combinations_with_replacement, pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.design.draft import Draft
from panelgen.design.house import design
from panelgen.model import Partition
from panelgen.spec import HouseSpec
from tests.design.floors.houses import FOOT, floored

SPACING = 24 * 25.4
LENGTHS = (96 * 25.4, 108 * 25.4, 120 * 25.4)


def floor(wide: float, long: float, **more: Any) -> HouseSpec:
    """A rectangular floor of I-joists at 24 in. along y."""
    ring = ((0.0, 0.0), (wide, 0.0), (wide, long), (0.0, long))
    return floored(ring, stock="i-9-1/2", depth=241.3, spacing=SPACING, **more)


def of_floor(spec: HouseSpec) -> Partition:
    (found,) = (one for one in Draft.of(spec).partitions if one.wall == "F2")
    return found


def cover(width: float) -> float:
    """The least stock end to end, of as few sheets as can be, that covers a width."""
    count = next(n for n in range(1, 10) if n * LENGTHS[-1] >= width - 1e-6)
    return min(total for lot in combinations_with_replacement(LENGTHS, count) if (total := sum(lot)) >= width - 1e-6)


def by_trying(wide: float, long: float, widest: float) -> tuple[int, int, int, tuple[int, ...]]:
    """Legal splits, those with the fewest columns, and columns, waste and squared widths of the best, one by one."""
    joints = [n * SPACING for n in range(1, int(wide / SPACING) + 1) if 609.6 <= n * SPACING <= wide - 609.6]
    splits = []
    for count in range(len(joints) + 1):
        for chosen in combinations(joints, count):
            spans = list(pairwise((0.0, *chosen, wide)))
            if all(609.6 - 1e-6 <= b - a <= widest + 1e-6 for a, b in spans):
                waste = sum(round((cover(b - a) - (b - a)) * long / 100.0) for a, b in spans)
                splits.append((len(spans), waste, sum(round(b - a) ** 2 for a, b in spans)))
    best = min(splits)
    return len(splits), sum(split[0] == best[0] for split in splits), best[0], best


@settings(max_examples=60, deadline=None)
@given(st.integers(200, 900), st.integers(250, 700), st.sampled_from([2000.0, 2600.0, 3048.0]))
def test_a_field_is_split_as_trying_every_split_finds(wide: int, long: int, widest: float) -> None:
    across, along = 10.0 * wide, 10.0 * long
    spec = floor(across, along, shop={"line_height": widest, "panel_mass": 100_000.0})
    limit = 7315.2 if along <= widest else widest
    legal, fewest, count, best = by_trying(across, along, limit)
    found = of_floor(spec)
    assert (found.legal, found.fewest, len(found.joints) + 1) == (legal, fewest, count)
    spans = list(pairwise((0.0, *found.joints, across)))
    waste = sum(round((cover(b - a) - (b - a)) * along / 100.0) for a, b in spans)
    assert (len(spans), waste, sum(round(b - a) ** 2 for a, b in spans)) == best


def test_a_cassette_goes_on_the_truck() -> None:
    spec = floor(9000.0, 7000.0, shop={"truck": {"height": 2500.0, "length": 8000.0}})
    spans = pairwise((0.0, *of_floor(spec).joints, 9000.0))
    assert all(b - a <= 2500.0 for a, b in spans)


def test_columns_far_from_the_crane_are_narrower() -> None:
    crane = {"at": [0.0, 3000.0], "table": [{"radius": 7000.0, "mass": 900.0}, {"radius": 20000.0, "mass": 220.0}]}
    house = design(floor(40 * FOOT, 20 * FOOT, shop={"crane": crane}))
    widths = [panel.length for panel in house.panels if panel.wall == "F2"]
    assert max(widths[:2]) > 1.5 * max(widths[-2:])
    assert not [finding for finding in house.findings if finding.code.startswith("deck.")]


def test_what_no_split_allows_is_said_and_split_for_the_line() -> None:
    house = design(floor(9000.0, 7000.0, shop={"panel_mass": 20.0}))
    (found,) = (finding for finding in house.findings if finding.code == "deck.no-joint")
    assert found.value == pytest.approx(9000.0)
    (partition,) = (one for one in house.partitions if one.wall == "F2")
    assert (partition.legal, partition.cost) == (0, None)
    assert max(panel.length for panel in house.panels if panel.wall == "F2") <= 3048.0
