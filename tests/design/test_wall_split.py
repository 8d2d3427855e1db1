"""The split of walls: the optimum by every limit, with the wishes of the engineer, clear of everything in the wall."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from panelgen.design import design
from panelgen.design.draft import Draft
from panelgen.design.split.wall import WallPieces
from panelgen.model import Finding, House, Partition
from panelgen.model.masses import center_of_gravity, panel_mass
from panelgen.model.volumes import sheet_volume
from panelgen.spec import HouseSpec, load
from tests.design.houses import ASSEMBLIES, one_wall
from tests.design.random_walls import disagreement, random_wall

FOOT = 304.8
EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "tern-cottage.yaml"
TWELVE = {"line_length": "12 ft"}


ONE_FACE = {
    "layers": [
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "weather"},
        {"layer": "framing", "stock": "2x6", "spacing": "24 in"},
    ]
}


def wall(length: str, openings: list[dict[str, Any]] | None = None, **more: Any) -> HouseSpec:
    """A wall ``N1`` with sheathing on one face, so that sheets 4 ft wide need not be staggered against others."""
    return one_wall(length, openings, "one face", assemblies=ASSEMBLIES | {"one face": ONE_FACE}, **more)


def joints(spec: HouseSpec) -> list[float]:
    """Where the panels of the wall meet, ft from its start."""
    (partition,) = (one for one in Draft.of(spec).splits.partitions if one.wall == "N1")
    return [round(x / FOOT, 3) for x in partition.joints]


def notes(spec: HouseSpec) -> list[Finding]:
    return list(Draft.of(spec).splits.findings)


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_the_split_is_the_best_of_all(first: int) -> None:
    assert [words for seed in range(first, first + 20) if (words := disagreement(random_wall(seed))[0])] == []


@pytest.mark.slow
@pytest.mark.parametrize("first", range(1000, 1520, 130))
def test_the_split_is_the_best_of_all_of_many(first: int) -> None:
    assert [words for seed in range(first, first + 130) if (words := disagreement(random_wall(seed))[0])] == []


def test_sheets_are_wasted_least_among_the_fewest_panels() -> None:
    """20 ft on a line of 12 ft: 8 + 12 ft take 2 + 3 sheets of 4 ft, 10 + 10 ft take 3 + 3."""
    assert joints(wall("20 ft", shop=TWELVE)) == [8.0]


def test_even_weights_decide_between_equal_wastes() -> None:
    """16 ft: 4 + 12, 8 + 8 and 12 + 4 ft all take 4 sheets."""
    assert joints(wall("16 ft", shop=TWELVE)) == [8.0]


def test_staggered_sheets_of_two_faces_are_both_counted() -> None:
    """Inside they are staggered by 2 ft: 8 ft take 2 + 3, 12 ft take 3 + 4, 10 ft take 3 + 3 and 4 ft take 1 + 1."""
    assert joints(one_wall("20 ft", shop=TWELVE)) == [10.0]
    assert joints(one_wall("16 ft", shop=TWELVE)) == [4.0]


def test_without_sheets_weights_decide() -> None:
    assert joints(one_wall("20 ft", assembly="bare", shop=TWELVE)) == [10.0]


def test_the_house_says_how_good_each_split_is() -> None:
    house = design(wall("20 ft", shop=TWELVE))
    (partition,) = house.partitions
    assert (partition.candidates, partition.legal, partition.fewest) == (9, 492, 3)
    assert partition.cost is not None
    waste = sum(sheet.stock_size[0] * sheet.stock_size[1] for panel in house.panels for sheet in panel.sheets)
    waste -= sum(sheet_volume(sheet) / sheet.thickness for panel in house.panels for sheet in panel.sheets)
    assert partition.cost.panels == len(house.panels) == 2
    assert partition.cost.waste == pytest.approx(waste / 1e6, abs=1e-3)
    assert partition.cost.squared_masses == pytest.approx(sum(panel_mass(one) ** 2 for one in house.panels), rel=0.04)


def test_an_only_choice_is_not_weighed() -> None:
    (partition,) = design(wall("12 ft", shop=TWELVE)).partitions
    assert partition == Partition("N1", 0.0, pytest.approx(12 * FOOT), (), 5, 32, 1)


@pytest.fixture(scope="module")
def cottage() -> tuple[HouseSpec, Draft, House]:
    spec = load(EXAMPLE)
    return spec, Draft.of(spec), design(spec)


def test_estimates_are_those_of_the_designed_panels(cottage: tuple[HouseSpec, Draft, House]) -> None:
    """Waste exactly, but for the holes of sleeves; masses to 5 %; centres of gravity to 60 mm."""
    _, draft, house = cottage
    walls = {(one.whole.wall.id, one.whole.wall_start): one for one in draft.splits.asked}
    seen = 0
    for (wall, start), asked in walls.items():
        panels = [panel for panel in house.panels if panel.wall == wall]
        free = WallPieces(asked.whole, draft.rules, house.limits, pins=[panel.wall_start - start for panel in panels])
        for panel in panels:
            i = free.stops.index(min(free.stops, key=lambda x, at=panel.wall_start - start: abs(x - at)))
            j = free.stops.index(min(free.stops, key=lambda x, at=panel.wall_start - start + panel.length: abs(x - at)))
            waste = sum(
                one.stock_size[0] * one.stock_size[1] - sheet_volume(one) / one.thickness for one in panel.sheets
            )
            holes = sum(one.diameter**2 for one in panel.sleeves) * 2
            assert abs(free.cost(i, j)[0] * 100.0 - waste) <= 100.0 + holes
            assert free.masses.mass[i, j] == pytest.approx(panel_mass(panel), rel=0.05)
            assert free.masses.centre[i, j] - (panel.wall_start - start) == pytest.approx(
                center_of_gravity(panel)[0], abs=60.0
            )
            seen += 1
    assert seen == len(house.panels)


def test_pins_and_forbids() -> None:
    assert joints(wall("20 ft", shop=TWELVE, joints=[{"wall": "N1", "at": "9 ft"}])) == [9.0]
    assert joints(wall("20 ft", shop=TWELVE, no_joints=[{"wall": "N1", "start": "7 ft", "end": "9 ft"}])) == [12.0]


def test_a_pin_in_a_bad_place_is_kept_and_told() -> None:
    window = {"id": "W1", "type": "window-30x48", "center": "8 ft", "sill": 800}
    spec = wall("20 ft", [window], shop=TWELVE, joints=[{"wall": "N1", "at": "10 ft"}])
    assert joints(spec) == [10.0]
    (note,) = notes(spec)
    assert note.code == "panel.pin"
    assert "opening W1" in note.words


@pytest.mark.parametrize(
    "services",
    [
        {"runs": [{"id": "R", "system": "vent", "size": "pvc-2", "wall": "N1",
                   "path": [[8 * FOOT + 60, 300, "framing"], [8 * FOOT + 60, 2300, "framing"]]}]},
        {"boxes": [{"id": "B", "wall": "N1", "product": "square-4x1-1/4", "at": [8 * FOOT - 80, 400]}]},
        {"runs": [{"id": "R", "system": "cold water", "size": "pex-1/2",
                   "path": [[8 * FOOT, -200, 500], [8 * FOOT, 400, 500]]}]},
    ],
)  # fmt: skip
def test_joints_keep_off_services(services: dict[str, Any]) -> None:
    assert joints(wall("20 ft", shop=TWELVE, **services)) == [12.0]


def test_a_run_along_the_wall_bars_no_joint() -> None:
    path = [[300, 400, "framing"], [5000, 400, "framing"]]
    run = {"id": "R", "system": "power", "size": "nm-12/2", "wall": "N1", "path": path}
    assert joints(wall("20 ft", shop=TWELVE, runs=[run])) == [8.0]


@pytest.mark.parametrize(("clearance", "legal"), [(0.0, 3), (300.0, 2)])
def test_end_studs_stand_beside_the_studs_of_an_opening(clearance: float, legal: int) -> None:
    """A window of 31 in whose jack and king end 83 mm beside it: the joint at 4 ft needs 38 mm more than that."""
    centre = 4 * FOOT + 31 * 25.4 / 2 + 3 * 38.1 + 1.0
    for shift, count in ((0.0, legal), (-2.0, 2)):
        window = {"id": "W1", "type": "window-30x48", "center": centre + shift, "sill": 800}
        spec = wall("10 ft", [window], shop={"line_length": "12 ft", "joint_clearance": clearance})
        (partition,) = Draft.of(spec).splits.partitions
        assert partition.candidates == count


def crane(at: list[float], *rows: tuple[float, float]) -> dict[str, Any]:
    return {"at": at, "table": [{"radius": radius, "mass": mass} for radius, mass in rows]}


def test_panels_far_from_the_crane_are_lighter() -> None:
    """It stands before the left end and lifts 300 kg out to 4 m, 210 kg beyond; this wall weighs some 60 kg/m."""
    shop = {"line_length": "14 ft", "crane": crane([0, -1000], (4000, 300), (12000, 210))}
    spec = one_wall("20 ft", shop=shop)
    house = design(spec)
    assert house.findings == ()
    masses = [panel_mass(panel) for panel in house.panels]
    assert max(masses[1:]) <= 215.0
    assert masses[0] > 215.0


def test_a_crane_that_reaches_no_panel() -> None:
    spec = wall("20 ft", shop=TWELVE | {"crane": crane([0, -20000], (4000, 300), (12000, 210))})
    (note,) = notes(spec)
    assert note.code == "panel.no-joint"
    assert "what the crane lifts at its radius" in note.words
    assert "load chart and a qualified person decide" in note.words
    assert joints(spec) == [8.0]


def test_a_truck_shorter_than_the_line() -> None:
    assert joints(wall("16 ft", shop={"line_length": "20 ft", "truck": {"length": "12 ft"}})) == [8.0]


def test_no_split_names_the_limit_that_stands_in_the_way() -> None:
    gate = {"id": "D1", "type": "gate-144x80", "center": "10 ft"}
    (note,) = notes(wall("20 ft", [gate], shop=TWELVE))
    assert (note.code, note.parts, note.limit) == ("panel.no-joint", ("N1",), pytest.approx(12 * FOOT))
    assert "the length of the line" in note.words
    (note,) = notes(wall("20 ft", shop={"panel_mass": 20}))
    assert "the mass that the shop moves" in note.words
    assert "length of the line" not in note.words


def test_a_raked_wall_is_split_where_the_line_is_high_enough() -> None:
    gable = {"gable": {"eave": 1000, "rise": "6 in", "peak": "0 ft"}}
    high = wall("24 ft", wall=gable, shop={"line_length": "24 ft", "line_height": 6000})
    assert joints(high) == []
    (note,) = notes(wall("24 ft", wall=gable, shop={"line_length": "24 ft", "line_height": 3000}))
    assert "the height of the line" in note.words


def test_a_moved_run_splits_the_wall_elsewhere() -> None:
    def spec(x: float) -> HouseSpec:
        path = [[x, 300, "framing"], [x, 2300, "framing"]]
        run = {"id": "R", "system": "vent", "size": "pvc-2", "wall": "N1", "path": path}
        return wall("20 ft", shop=TWELVE, runs=[run])

    first = Draft.of(spec(1500.0))
    assert first.with_services(spec(1510.0)).briefs is first.briefs
    moved = first.with_services(spec(8 * FOOT))
    assert moved.splits == Draft.of(spec(8 * FOOT), first.catalog).splits
    assert moved.splits.spans != first.splits.spans
