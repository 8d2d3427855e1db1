from __future__ import annotations

from panelgen.spec import loads
from panelgen.spec.assumptions import defaults_used

SPARSE = """\
panelgen: 1
house: Sparse
unit: {unit}
design: {{ground_snow: 0, building_width: 6 m}}
assemblies:
  a: {{layers: [{{layer: framing}}]}}
  b: {{layers: [{{layer: sheathing, product: osb-7/16}}, {{layer: framing, spacing: 16 in}}]}}
levels:
  - id: "1"
    elevation: 0
    height: 2.4 m
    walls: [{{wall: A, assembly: a, start: [0, 0], end: [3 m, 0], gable: {{eave: 1 m, rise: 1 m, peak: 0}}}}]
unit_types:
  w: {{kind: window, width: 0.5 m, height: 0.5 m}}
openings: [{openings}]
"""


def used(unit: str = "in", openings: str = "") -> dict[str, str]:
    rows = defaults_used(loads(SPARSE.format(unit=unit, openings=openings)))
    assert {source for *_, source in rows} <= {"default"}
    assert len({field for field, *_ in rows}) == len(rows)
    return {field: value for field, value, _ in rows}


def test_defaults_that_decide_are_listed_with_their_unit() -> None:
    rows = used()
    assert rows["rules"] == "irc-2021"
    assert rows["shop.line_length"] == "288 in"
    assert rows["shop.panel_mass"] == "1360 kg"
    assert rows["assemblies.b.layers[0].gap"] == "1/8 in"
    assert rows["levels[0].walls[0].exterior"] == "false"
    assert rows["levels[0].walls[0].gable.run"] == "12 in"
    assert rows["unit_types.w.clearance.sill"] == "1/2 in"


def test_a_default_is_written_in_the_unit_of_the_file_where_that_is_exact() -> None:
    assert used("mm")["shop.line_length"] == "7315.2 mm"
    assert used("ft")["shop.line_length"] == "24'-0\""
    assert used("in")["shop.joint_clearance"] == used("mm")["shop.joint_clearance"] == "300 mm"


def test_what_is_written_is_no_default() -> None:
    rows = used()
    assert "unit" not in rows
    assert "assemblies.b.layers[1].spacing" not in rows
    assert "levels[0].walls[0].gable.peak" not in rows


def test_what_holds_nothing_is_left_out() -> None:
    rows = used()
    assert not {"runs", "openings", "products.stock"} & rows.keys()
    assert "levels[0].walls[0].bearing" not in rows


def test_the_same_default_in_many_places_is_one_row() -> None:
    rows = used()
    assert rows["assemblies.*.layers[*].stock (2 places)"] == "2x6"
    assert rows["assemblies.a.layers[0].spacing"] == "24 in"


def test_rows_come_in_the_order_of_the_models(good: str) -> None:
    rows = defaults_used(loads(good))
    assert [field for field, *_ in rows if field.startswith("levels")] == [
        "levels[*].has_floor (2 places)",
        "levels[0].outlines[0].corners[*].ends (4 places)",
        "levels[0].outlines[0].closed",
        "levels[*].walls[0].ends (2 places)",
        "levels[0].walls[0].exterior",
        "levels[*].walls[0].along (2 places)",
    ]
