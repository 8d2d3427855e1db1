"""Faults of roofs and trusses that show only beside the rest of the file."""

from __future__ import annotations

import pytest

from panelgen.errors import SpecError
from panelgen.spec import loads

HOUSE = """
panelgen: 1
house: Shed
design: {{ground_snow: 1.5, building_width: 6000}}
assemblies:
  wall: {{layers: [{{layer: framing, stock: 2x6}}]}}
  roof: {{layers: [{{layer: sheathing, product: osb-7/16}}, {{layer: framing, stock: 2x10}}]}}
levels:
  - id: "1"
    elevation: 0
    height: 2500
    outlines:
      - assembly: wall
        corners:
          - {{wall: S, at: [0, 0]}}
          - {{wall: E, at: [9000, 0]}}
          - {{wall: N, at: [9000, 6000]}}
          - {{wall: W, at: [0, 6000]}}
{0}
"""


def test_a_roof_takes_its_footprint_from_the_outline() -> None:
    house = loads(
        HOUSE.format("roofs: [{id: R, level: '1', assembly: roof, rise: 6 in, edges: [{edge: E, kind: gable}]}]")
    )
    assert [name for name, _ in house.roofs[0].corners(house.levels[0])] == ["S", "E", "N", "W"]
    assert house.roofs[0].edge("E").kind == "gable"
    assert house.roofs[0].edge("S").kind == "eave"


@pytest.mark.parametrize(
    ("roof", "field", "words"),
    [
        ("level: '2', assembly: roof", "roofs[0].level", "no level of this name"),
        ("level: '1', assembly: rof", "roofs[0].assembly", "no assembly of this name"),
        ("level: '1', assembly: roof, hip: 2x99", "roofs[0].hip", "no stock size of this name"),
        ("level: '1', assembly: roof, joints: [{edge: X, at: 1}]", "roofs[0].joints[0].edge", "no edge of this name"),
        (
            ("level: '1', assembly: roof, edges: [{edge: S, kind: gable}], "
            "openings: [{id: o, edge: S, at: [1000, 1000], size: [600, 900]}]"),
            "roofs[0].openings[0].edge",
            "edge S is a gable, which has no plane",
        ),
        (
            "level: '1', assembly: roof, edges: [{edge: S, kind: gable}], joints: [{edge: S, at: 1000}]",
            "roofs[0].joints[0].edge",
            "edge S is a gable, which has no plane",
        ),
        (
            ("level: '1', assembly: roof, edges: [{edge: S, kind: gable}], "
            "purlins: [{id: p, edge: N, at: 2000, width: 90}, {id: q, edge: S, at: 2000, width: 90}]"),
            "roofs[0].purlins[1].edge",
            "edge S is a gable, which has no plane",
        ),
        (
            ("level: '1', assembly: roof, openings: [{id: o, edge: S, at: [2000, 1000], size: [600, 900]}], "
            "joints: [{edge: N, at: 2000}, {edge: S, at: 1800}]"),
            "roofs[0].joints[1].at",
            "falls in opening o",
        ),
        (
            ("level: '1', assembly: roof, joints: [{edge: S, at: 1800}], "
            "no_joints: [{edge: N, start: 1000, end: 3000}, {edge: S, start: 1000, end: 3000}]"),
            "roofs[0].joints[0].at",
            "no_joints[1] forbids",
        ),
        (
            ("level: '1', assembly: roof, footprint: [{edge: a, at: [0, 0]}, {edge: b, at: [0, 5000]}, "
            "{edge: c, at: [5000, 5000]}, {edge: d, at: [5000, 0]}]"),
            "roofs[0].footprint",
            "the outline runs clockwise",
        ),
    ],
)  # fmt: skip
def test_a_fault_names_its_field(roof: str, field: str, words: str) -> None:
    with pytest.raises(SpecError) as caught:
        loads(HOUSE.format(f"roofs: [{{id: R, rise: 6 in, {roof}}}]"))
    assert [problem.field for problem in caught.value.problems] == [field]
    assert words in caught.value.problems[0].message


def test_trusses_stand_on_walls_that_there_are() -> None:
    row = "trusses: [{{id: T, level: '1', bearings: [S, {}], count: 9, span: 6000, rise: 6 in, heel: 200, mass: 60}}]"
    assert loads(HOUSE.format(row.format("N"))).trusses[0].count == 9
    with pytest.raises(SpecError, match="no wall of this name"):
        loads(HOUSE.format(row.format("Q")))
