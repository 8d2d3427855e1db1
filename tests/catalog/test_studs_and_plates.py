"""Studs, top plates and shields.

Stud table: IRC Table R602.3(5) as adapted in a wall-framing field guide. Plate laps: IRC R602.3.2 (a
builders' forum and an exam page) and WAC 246-359-230 (public law). Shields: NEC 300.4(A) in two public
reproductions; IPC/IMC 305 quoted in a code forum.
"""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.units import MM_PER_FOOT, inches

CATALOG = Catalog.default()


def test_plate_lap_is_24_in_one_code_and_48_in_the_other() -> None:
    """Trap: public notes mix up the two."""
    assert CATALOG.rules("irc-2021").plate_lap.offset == pytest.approx(inches(24))
    assert CATALOG.rules("irc-2012").plate_lap.offset == pytest.approx(inches(24))
    assert CATALOG.rules("wac-246-359").plate_lap.offset == pytest.approx(inches(48))
    assert CATALOG.rules("wac-246-359").plate_lap.grade == "A"


@pytest.mark.parametrize(
    ("stock", "storeys", "spacing"),
    [("2x4", 0, 24), ("2x4", 1, 16), ("2x6", 0, 24), ("2x6", 1, 24), ("2x6", 2, 16)],
)
def test_stud_spacing(stock: str, storeys: int, spacing: float) -> None:
    """At 24 in. a 10 ft stud is allowed: the spacing varies in this table, not the height."""
    limit = CATALOG.rules("irc-2021").stud_limits(stock, storeys)
    assert limit is not None
    assert (limit.spacing, limit.height) == (pytest.approx(inches(spacing)), pytest.approx(10 * MM_PER_FOOT))


def test_24_inches_is_within_a_limit_of_24_inches() -> None:
    limit = CATALOG.rules("irc-2021").stud_limits("2x6", 1)
    assert limit is not None
    assert inches(24) <= 609.6 <= limit.spacing


@pytest.mark.parametrize(("stock", "storeys"), [("2x4", 2), ("2x6", 3), ("2x3", 0)])
def test_studs_the_table_does_not_allow(stock: str, storeys: int) -> None:
    assert CATALOG.rules("irc-2021").stud_limits(stock, storeys) is None


def test_partition_studs_may_be_taller() -> None:
    """From memory, 20 ft for 2x6 seen second-hand."""
    limit = CATALOG.rules("irc-2021").stud_limits("2x6", 0, bearing=False)
    assert limit is not None
    assert limit.height == pytest.approx(20 * MM_PER_FOOT)
    assert limit.unverified


def test_studs_of_the_worker_housing_law() -> None:
    limit = CATALOG.rules("wac-246-359").stud_limits("2x4", 0)
    assert limit is not None
    assert (limit.spacing, limit.height, limit.grade) == (
        pytest.approx(inches(16)),
        pytest.approx(8 * MM_PER_FOOT),
        "A",
    )


def test_shields_differ_between_codes() -> None:
    """Trap: 1-1/4 in. and 1/16 in. of steel for cables, 1-1/2 in. and 0.0575 in. for pipes."""
    rules = CATALOG.rules("irc-2021")
    cable, pipe = rules.shield("cable"), rules.shield("pipe")
    assert cable is not None
    assert (cable.edge_distance, cable.thickness) == (pytest.approx(inches(1.25)), pytest.approx(inches(1 / 16)))
    assert pipe is not None
    assert (pipe.edge_distance, pipe.thickness) == (pytest.approx(inches(1.5)), pytest.approx(inches(0.0575)))
    assert rules.shield("other") is None
