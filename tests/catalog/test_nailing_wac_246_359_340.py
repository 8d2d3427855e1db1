"""Fastening schedule of WAC 246-359-340, Table 340, read in the public law, and the IRC schedules.

Nail sizes: ASTM F1667 / NDS Appendix L, as printed on city code sheets and in a reproduction of IBC
Table 2304.10.1 rows 1-7.
"""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.errors import CatalogError
from panelgen.units import inches

CATALOG = Catalog.default()

WAC_ROWS = [
    # joint, fastener, count, spacing in, manner
    ("top plate to stud", "16d common", 2, 0, "end"),
    ("bottom plate to stud", "16d common", 2, 0, "end"),
    ("double studs", "16d common", 1, 24, "face"),
    ("cap plate to top plate", "16d common", 1, 16, "face"),
    ("cap plate splice", "16d common", 8, 0, "face"),
    ("cap plate lap", "16d common", 2, 0, "face"),
    ("header plies", "16d common", 2, 16, "face"),
    ("header to king", "8d common", 4, 0, "toe"),
    ("corner studs", "16d common", 1, 24, "face"),
]

JOINTS = [
    "bottom plate to stud",
    "top plate to stud",
    "cap plate to top plate",
    "cap plate splice",
    "cap plate lap",
    "double studs",
    "king to jack",
    "header plies",
    "header to king",
    "sill to jack",
    "cripple to plate",
    "cripple to header",
    "head plate to stud",
    "plate to header",
    "blocking to stud",
    "blocking in line",
    "corner studs",
    "strap to stud",
    "strap along stick",
    "tie plate",
    "plate tie",
    "rafter to ridge",
    "rafter to fascia",
    "rafter to header",
    "header to trimmer",
    "blocking to rafter",
    "roof board to board",
    "rafter plies",
    "joist to rim",
    "joist to header",
    "joist plies",
    "blocking to joist",
]


@pytest.mark.parametrize(("joint", "fastener", "count", "spacing", "manner"), WAC_ROWS)
def test_schedule_of_the_law(joint: str, fastener: str, count: int, spacing: float, manner: str) -> None:
    row = CATALOG.rules("wac-246-359").joint(joint)
    assert (row.fastener, row.count, row.manner) == (fastener, count, manner)
    assert row.spacing == pytest.approx(inches(spacing))
    assert row.grade == "A"
    assert row.source.startswith("WAC 246-359-340")


@pytest.mark.parametrize("rules", CATALOG.rule_sets)
def test_every_rule_set_nails_every_joint(rules: str) -> None:
    assert sorted(CATALOG.rules(rules).joints) == sorted(JOINTS)


def test_editions_of_the_schedule_are_kept_apart() -> None:
    """From memory: 10d at 24 in. in the 2009/2012 editions, 16d common at 16 in. from 2018 on."""
    older = CATALOG.rules("irc-2012").joint("cap plate to top plate")
    newer = CATALOG.rules("irc-2021").joint("cap plate to top plate")
    assert (older.fastener, older.spacing) == ("10d box", pytest.approx(inches(24)))
    assert (newer.fastener, newer.spacing) == ("16d common", pytest.approx(inches(16)))
    assert older.unverified
    assert newer.unverified


def test_single_top_plate_tie() -> None:
    """IRC R602.3.2 (a builders' forum and an exam page, 2018): six 8d nails at each side of the joint."""
    row = CATALOG.rules("irc-2021").joint("tie plate")
    assert (CATALOG.fastener(row.fastener).length, row.count) == (pytest.approx(inches(2.5)), 6)


def test_unknown_joint_names_the_nearest() -> None:
    with pytest.raises(CatalogError, match="top plate to stud"):
        CATALOG.rules("irc-2021").joint("top plates to stud")


@pytest.mark.parametrize(
    ("name", "length", "shank"),
    [
        ("6d common", 2, 0.113),
        ("6d deformed", 2, 0.120),
        ("8d box", 2.5, 0.113),
        ("8d common", 2.5, 0.131),
        ("10d box", 3, 0.128),
        ("10d common", 3, 0.148),
        ("16d box", 3.5, 0.135),
        ("16d common", 3.5, 0.162),
        ("3 x 0.131", 3, 0.131),
    ],
)
def test_nail_sizes(name: str, length: float, shank: float) -> None:
    nail = CATALOG.fastener(name)
    assert (nail.length, nail.shank, nail.kind) == (
        pytest.approx(inches(length)),
        pytest.approx(inches(shank)),
        "nail",
    )


@pytest.mark.parametrize(
    ("thickness", "fastener"),
    [(3 / 8, "6d common"), (7 / 16, "6d common"), (1 / 2, "6d common"), (19 / 32, "8d common"), (1, "8d common")],
)
def test_sheathing_nails_by_thickness(thickness: float, fastener: str) -> None:
    """IRC Table R602.3(1) before 2018, read on a city code sheet: 6 in. at edges, 12 in. in the field."""
    row = CATALOG.rules("irc-2012").sheet_nailing(inches(thickness))
    assert row.fastener == fastener
    assert (row.edge_spacing, row.field_spacing) == (pytest.approx(inches(6)), pytest.approx(inches(12)))
    # 3/8 in. from edges: a panel maker's public wall instructions
    assert row.edge_distance == pytest.approx(inches(3 / 8))


def test_gypsum_sheathing_nails() -> None:
    """IRC Table R602.3(1) before 2018, same sheet: 1-1/2 in. roofing nails at 7 in. everywhere."""
    row = CATALOG.rules("irc-2012").sheet_nailing(inches(0.5), "gypsum")
    assert (row.edge_spacing, row.field_spacing) == (pytest.approx(inches(7)), pytest.approx(inches(7)))


@pytest.mark.parametrize(("thickness", "kind"), [(6.0, "wood"), (40.0, "wood"), (12.7, "gypsum")])
def test_sheets_outside_the_schedule_are_refused(thickness: float, kind: str) -> None:
    with pytest.raises(CatalogError, match="no nailing"):
        CATALOG.rules("wac-246-359").sheet_nailing(thickness, kind)
