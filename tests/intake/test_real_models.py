"""Models as they really come, from the folder of shared data beside the project; skipped where it is not there."""

from __future__ import annotations

import math
from collections import Counter
from functools import cache
from pathlib import Path

import ifcopenshell
import pytest

from panelgen.catalog import Catalog
from panelgen.intake import Counts, Intake, IntakeError, read_ifc
from panelgen.spec import HouseSpec
from panelgen.spec.loader import loads
from tests.intake.drawing import level_of, lines

DATA = Path(__file__).resolve().parents[3] / "shared" / "data" / "ifc"
DUPLEX = "duplex/Duplex_A_20110907.ifc"

pytestmark = pytest.mark.skipif(not DATA.is_dir(), reason=f"no folder of sample models at {DATA}")


@cache
def imported(model: str) -> tuple[Intake, HouseSpec]:
    intake = read_ifc(DATA / model)
    return intake, loads(intake.spec_text)


@pytest.mark.parametrize(
    ("model", "counts"),
    [
        (DUPLEX, Counts(57, 50, 38, 36)),
        ("bimwhale/SimpleWall.ifc", Counts(1, 1, 1, 1)),
        ("bimwhale/TallBuilding.ifc", Counts(24, 24, 26, 26)),
        ("bimwhale/LargeBuilding.ifc", Counts(18, 18, 60, 60)),
        ("pcert/Building-Architecture.ifc", Counts(4, 3, 0, 0)),
        ("pcert/Building-Structural.ifc", Counts(4, 4, 3, 3)),
        ("lantern_hollow/testhouse.ifc", Counts(8, 6, 7, 2)),
    ],
)
def test_the_model_loads_as_a_spec(model: str, counts: Counts) -> None:
    intake, _ = imported(model)
    assert intake.counts == counts
    assert len(ifcopenshell.open(str(DATA / model)).by_type("IfcWall")) == counts.walls


@pytest.mark.parametrize("model", ["duplex/Duplex_Electrical_20121207.ifc", "pcert/Building-Hvac.ifc"])
def test_a_model_of_services_has_no_walls(model: str) -> None:
    with pytest.raises(IntakeError, match="no wall of the model can be taken"):
        read_ifc(DATA / model)


def test_duplex_leaves_only_concrete_walls_and_roof_windows() -> None:
    intake, _ = imported(DUPLEX)
    assert Counter((item.kind, item.reason) for item in intake.left) == {
        ("wall", "concrete, not a wood panel; material in the model: Concrete - Cast In Situ"): 7,
        ("window", "it is in a roof, not in a wall"): 2,
    }


def test_duplex_levels() -> None:
    _, spec = imported(DUPLEX)
    assert [(level.id, level.elevation, level.has_floor, len(level.walls)) for level in spec.levels] == [
        ("1", 0, True, 17),
        ("1A", 2612, False, 4),
        ("2", 3100, True, 17),
        ("2A", 5712, False, 8),
        ("R", 6000, False, 4),
    ]


def test_duplex_exterior_walls_meet_at_the_corners_of_the_plan() -> None:
    _, spec = imported(DUPLEX)
    sheathing = Catalog.default().sheet("osb-7/16").thickness
    faces = {0 + sheathing, 8800 - sheathing}, {0 - sheathing, -17800 + sheathing}
    for level in ("1", "2", "R"):
        outside = [line for line in lines(spec).values() if line.exterior and level_of(spec, line.wall).id == level]
        assert len(outside) == 4
        for line in outside:
            across = 1 if math.isclose(line.start[1], line.end[1]) else 0
            assert min(abs(line.start[across] - face) for face in faces[across]) < 0.1


def test_duplex_openings_keep_their_place_and_size_in_the_house() -> None:
    """Plan middles and bottoms read from the file's own placements, for one opening in each direction."""
    intake, spec = imported(DUPLEX)
    expected = {
        "M_Fixed.145788": (3548 + 4835 / 2, 100, 4835, 2420),  # along y = 0
        "M_Fixed.146016": (5252 - 4835 / 2, 100, 4835, 2420),  # along y = -17800
        "M_Single-Flush.150257": (-7749 - 762 / 2, 0, 762, 2032),  # along x = 2512
    }
    walls = lines(spec)
    assert {taken.id for taken in intake.taken_openings} >= set(expected)
    for opening in spec.openings:
        if opening.id not in expected:
            continue
        middle, bottom, width, height = expected[opening.id]
        line, unit = walls[opening.wall], spec.unit_types[opening.type]
        axis = 0 if math.isclose(line.start[1], line.end[1]) else 1
        step = math.copysign(1.0, line.end[axis] - line.start[axis])
        assert line.start[axis] + step * opening.center == pytest.approx(middle, abs=0.2)
        sill_clearance = unit.clearance.sill if unit.kind == "window" else 0.0
        assert (opening.sill or 0.0) + sill_clearance == pytest.approx(bottom)
        assert (unit.width, unit.height) == (width, height)


def test_duplex_partition_studs_lie_where_the_model_has_them() -> None:
    _, spec = imported(DUPLEX)
    furring = lines(spec)["Interior-Furring-152-mm-Stud.189901"]
    # Layers from x = 4182 back: 136 mm of studs, then 16 mm of board to x = 4030.
    assert furring.start[0] == furring.end[0] == pytest.approx(4182 - 136 / 2)
