"""Heights that nobody wrote: levels on the floors below them, roofs on walls or ceilings."""

from __future__ import annotations

import pytest

from panelgen.spec import HouseSpec, loads
from panelgen.spec.assumptions import defaults_used
from panelgen.spec.settling import settled

INCH = 25.4
WALL = 97.125
FLOOR = 11.25 + 23 / 32
CEILING = 9.25 + 7 / 16

HOUSE = """\
panelgen: 1
house: Heights
unit: in
design: {ground_snow: 0, building_width: 20 ft}
assemblies:
  wall: {layers: [{layer: framing}]}
  floor: {layers: [{layer: sheathing, product: osb-23/32}, {layer: framing, stock: 2x12}]}
  ceiling: {layers: [{layer: framing, stock: 2x10}, {layer: sheathing, product: osb-7/16}]}
levels:
  - {id: "1", height: 97-1/8, walls: [{wall: A, assembly: wall, start: [0, 0], end: [10 ft, 0]}]}
  - {id: "2", height: 97-1/8, outlines: [{assembly: wall, corners: [{wall: B, at: [0, 0]}, {wall: C, at: [20 ft, 0]},
      {wall: D, at: [20 ft, 20 ft]}, {wall: E, at: [0, 20 ft]}]}]}
roofs: [{id: R, level: "2", assembly: ceiling, rise: 6}]
"""
WITH_FLOOR = HOUSE + 'floors: [{id: F, level: "2", assembly: floor, joists: y}]\n'
WITH_CEILING = HOUSE + 'ceilings: [{id: K, level: "2", assembly: ceiling, joists: y}]\n'


def heights(house: HouseSpec) -> tuple[list[float], float]:
    """Where the levels stand and where the plates of the roof are, inches."""
    return [level.base / INCH for level in house.levels], house.roofs[0].seat / INCH


@pytest.mark.parametrize(
    ("text", "floor", "ceiling"), [(HOUSE, 0.0, 0.0), (WITH_FLOOR, FLOOR, 0.0), (WITH_CEILING, 0.0, CEILING)]
)
def test_heights_follow_from_what_lies_below(text: str, floor: float, ceiling: float) -> None:
    levels, plate = heights(loads(text))
    assert levels == pytest.approx([0.0, WALL + floor])
    assert plate == pytest.approx(2 * WALL + floor + ceiling)


def test_what_is_written_stays() -> None:
    levels, plate = heights(
        loads(WITH_FLOOR.replace('id: "2",', 'id: "2", elevation: 120,').replace("rise", "plate: 250, rise"))
    )
    assert levels == pytest.approx([0.0, 120.0])
    assert plate == pytest.approx(250.0)


def test_the_next_level_rises_with_the_one_below() -> None:
    levels, _ = heights(loads(WITH_FLOOR.replace('"1", height', '"1", elevation: 12, height')))
    assert levels == pytest.approx([12.0, 12.0 + WALL + FLOOR])


def test_a_copy_with_deeper_joists_rises() -> None:
    """The copy keeps heights that were found for the other, and they are found anew."""
    house = loads(WITH_FLOOR)
    deeper = house.model_copy(update={"assemblies": {**house.assemblies, "floor": house.assemblies["ceiling"]}})
    levels, _ = heights(settled(deeper))
    assert levels == pytest.approx([0.0, WALL + CEILING])


def test_heights_that_were_found_are_told_with_their_unit() -> None:
    told = {field: value for field, value, _ in defaults_used(loads(WITH_FLOOR))}
    assert told["levels[0].elevation"] == "0 in"
    assert told["levels[1].elevation"] == "2771 mm"  # 109-3/32 in, which is between two sixteenths
    assert told["roofs[0].plate"] == "5238 mm"


def test_heights_are_asked_for_only_once_they_are_settled() -> None:
    house = HouseSpec.model_validate(
        {"panelgen": 1, "house": "Bare", "design": {"ground_snow": 0, "building_width": 6000}}
        | {"assemblies": {"a": {"layers": [{"layer": "framing"}]}}}
        | {
            "levels": [
                {
                    "id": "1",
                    "height": 2400,
                    "walls": [{"wall": "A", "assembly": "a", "start": [0, 0], "end": [3000, 0]}],
                }
            ]
        }
    )
    with pytest.raises(ValueError, match="level 1 are not settled"):
        _ = house.levels[0].base
    assert settled(house).levels[0].base == 0.0
