"""Faults of floors and ceilings that show only beside the rest of the file."""

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
  floor: {{layers: [{{layer: sheathing, product: osb-23/32}}, {{layer: framing, stock: 2x10, insulation: null}}]}}
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
  - id: "2"
    elevation: 2800
    height: 2500
    walls: [{{wall: P, assembly: wall, start: [0, 3000], end: [9000, 3000]}}]
{0}
"""


def floor(more: str = "", level: str = "1", assembly: str = "floor", outline: str = "") -> str:
    """A floor, with an outline where one is given and more fields."""
    fields = [f"id: F, level: '{level}', assembly: {assembly}, joists: y"]
    fields += [f"outline: {outline}"] if outline else []
    fields += [more] if more else []
    return HOUSE.format(f"floors: [{{{', '.join(fields)}}}]")


def hole(x: float, y: float, wide: float, long: float, id: str = "H") -> str:
    return f"{{id: {id}, at: [{x}, {y}], size: [{wide}, {long}]}}"


def test_a_floor_takes_the_outline_of_its_level() -> None:
    house = loads(floor())
    assert house.floors[0].ring(house.levels[0]) == ((0, 0), (9000, 0), (9000, 6000), (0, 6000))


def test_an_outline_may_run_either_way_round() -> None:
    house = loads(floor(outline="[[0, 0], [0, 6000], [9000, 6000], [9000, 0]]"))
    assert house.floors[0].ring(house.levels[0]) == ((9000, 0), (9000, 6000), (0, 6000), (0, 0))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (floor(level="7"), "level"),
        (floor(assembly="roof"), "assembly"),
        (floor("bears_on: [S, X]"), "wall"),
        (floor("rim: 2x99"), "stock size"),
        (floor("header: 2x99"), "stock size"),
        (floor(level="2"), "not one closed outline"),
        (floor(outline="[[0, 0], [9000, 0], [9000, 6000]]"), "at least 4 corners"),
        (floor(outline="[[0, 0], [9000, 0], [9000, 6000], [100, 6000]]"), "neither along x nor along y"),
        (floor(outline="[[0, 0], [4000, 0], [9000, 0], [9000, 6000], [0, 6000]]"), "not square"),
        (floor(outline="[[0, 0], [9000, 0], [9000, 0], [9000, 6000], [0, 6000]]"), "same point"),
        (
            floor(
                outline="[[0, 0], [9000, 0], [9000, 6000], [3000, 6000], [3000, -1000], [2000, -1000], "
                "[2000, 6000], [0, 6000]]"
            ),
            "crosses or touches itself",
        ),
        (floor(f"openings: [{hole(8500, 1000, 1000, 1000)}]"), "not wholly inside"),
        (floor(f"openings: [{hole(-5000, 1000, 1000, 1000)}]"), "not wholly inside"),
        (floor(f"openings: [{hole(1000, 1000, 1000, 2000)}, {hole(1500, 2000, 900, 900, 'K')}]"), "overlaps opening H"),
        (floor(f"openings: [{hole(1000, 1000, 900, 900)}, {hole(3000, 1000, 900, 900)}]"), "another opening"),
        (floor("beams: [{id: B, start: [0, 0], end: [500, 900], width: 90}]"), "beam B runs neither"),
        (floor("beams: [{id: B, start: [5, 5], end: [5, 5], width: 90}]"), "beam B runs neither"),
        (floor("beams: [{id: S, start: [0, 5], end: [900, 5], width: 90}]"), "another beam of F, or a wall"),
        (floor().replace("id: F,", "id: S,"), "another wall, floor or ceiling"),
    ],
)
def test_what_cannot_be_is_named(text: str, words: str) -> None:
    with pytest.raises(SpecError, match=words):
        loads(text)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ("joints: [{at: 9000}]", "reaches from 0 mm to 9000 mm: no cassettes meet there"),
        ("joints: [{at: 4000}, {at: 4000}]", "joints[0] asks for this joint already"),
        ("joints: [{at: 4000}], no_joints: [{start: 3000, end: 5000}]", "no_joints[0] forbids a joint there"),
        (f"joints: [{{at: 1500}}], openings: [{hole(1000, 1000, 900, 900)}]", "falls in opening H"),
        ("no_joints: [{start: 5000, end: 3000}]", "end must be greater than start"),
    ],
)
def test_joints_that_cannot_be(more: str, words: str) -> None:
    with pytest.raises(SpecError) as caught:
        loads(floor(more))
    assert [words in problem.message for problem in caught.value.problems] == [True]


@pytest.mark.parametrize("place", [hole(0, 1000, 900, 900), hole(1000, 1000, 900, 900)])
def test_openings_inside_the_outline_are_taken(place: str) -> None:
    assert len(loads(floor(f"openings: [{place}]")).floors[0].openings) == 1


def test_services_may_name_a_floor() -> None:
    run = "runs: [{id: R, system: vent, diameter: 50, wall: F, path: [[1, 1, framing], [900, 1, framing]]}]"
    sleeve = "sleeves: [{id: S1, run: R, wall: F, at: [500, 500], product: sleeve-2, seal: gasket}]"
    box = "boxes: [{id: B, wall: F, product: square-4x1-1/4, at: [500, 500]}]"
    spec = loads(f"{floor()}\n{run}\n{sleeve}\n{box}")
    assert (spec.sleeves[0].wall, spec.boxes[0].wall) == ("F", "F")
