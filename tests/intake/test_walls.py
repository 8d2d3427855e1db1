"""Which walls come through, as what, and the reason where one does not."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from panelgen.catalog import Catalog
from panelgen.intake.assemblies import stacks
from tests.intake.drawing import Drawing, lines, reasons

ANCHOR = "Anchor"


@pytest.fixture
def drawing() -> Drawing:
    """A storey with one plain wall far away, so that something always comes through."""
    drawing = Drawing()
    drawing.storey("Level 1")
    drawing.wall(ANCHOR, (0, 50_000))
    return drawing


def circle_axis(drawing: Drawing) -> Any:
    place = drawing.make("IfcAxis2Placement2D", Location=drawing.point(0, 0), RefDirection=drawing.direction(1, 0))
    circle = drawing.make("IfcCircle", Position=place, Radius=3000.0)
    ends = [drawing.make("IfcParameterValue", 0.0)], [drawing.make("IfcParameterValue", 90.0)]
    return drawing.make(
        "IfcTrimmedCurve",
        BasisCurve=circle,
        Trim1=ends[0],
        Trim2=ends[1],
        SenseAgreement=True,
        MasterRepresentation="PARAMETER",
    )


def arc(radius: float, steps: int = 12) -> list[tuple[float, float]]:
    angles = np.linspace(0, np.pi / 2, steps)
    return [(float(radius * np.cos(a)), float(radius * np.sin(a))) for a in angles]


def test_a_curved_axis(drawing: Drawing, tmp_path: Path) -> None:
    wall = drawing.wall("Bow", bodies=[drawing.prism(arc(3100) + arc(2900)[::-1], 2400)], axis=False)
    wall.Representation = drawing.shape(wall.Representation.Representations[0].Items, axis=circle_axis(drawing))
    assert reasons(drawing.imported(tmp_path)[0])["Bow"] == "it is curved in plan"


def test_a_curved_body_without_axis(drawing: Drawing, tmp_path: Path) -> None:
    drawing.wall("Bow", bodies=[drawing.prism(arc(3100) + arc(2900)[::-1], 2400)], axis=False)
    assert "not a straight wall" in reasons(drawing.imported(tmp_path)[0])["Bow"]


def test_an_angle_of_two_legs(drawing: Drawing, tmp_path: Path) -> None:
    ring = [(0, 0), (4000, 0), (4000, 200), (200, 200), (200, 3000), (0, 3000)]
    drawing.wall("L", bodies=[drawing.prism(ring, 2400)], axis=False)
    assert "not a straight wall" in reasons(drawing.imported(tmp_path)[0])["L"]


def test_a_bent_axis(drawing: Drawing, tmp_path: Path) -> None:
    wall = drawing.wall("Bent", axis=False)
    items = wall.Representation.Representations[0].Items
    wall.Representation = drawing.shape(items, axis=[(0, 0), (2000, 0), (4000, 500)])
    assert "its axis is bent" in reasons(drawing.imported(tmp_path)[0])["Bent"]


def test_a_leaning_wall(drawing: Drawing, tmp_path: Path) -> None:
    ring = [(-100, 0), (100, 0), (900, 2400), (700, 2400)]
    body = drawing.prism(ring, 4000, drawing.place3((0, 0, 0), (0, 1, 0), (1, 0, 0)))
    drawing.wall("Lean", bodies=[body])
    assert "does not stand upright" in reasons(drawing.imported(tmp_path)[0])["Lean"]


def test_a_wall_without_a_shape(drawing: Drawing, tmp_path: Path) -> None:
    drawing.wall("Ghost", bodies=[])
    assert reasons(drawing.imported(tmp_path)[0])["Ghost"] == "it has no shape in the model"


def test_a_finish(drawing: Drawing, tmp_path: Path) -> None:
    drawing.wall("Tiles", thickness=13)
    assert reasons(drawing.imported(tmp_path)[0])["Tiles"] == "a finish, not a framed wall: only 13 mm thick"


def test_a_curtain_wall_is_listed_but_not_counted(drawing: Drawing, tmp_path: Path) -> None:
    drawing.rooted("IfcCurtainWall", Name="Glass")
    intake, _ = drawing.imported(tmp_path)
    assert reasons(intake)["Glass"] == "a curtain wall is not a wood panel"
    assert intake.counts.walls == 1


def test_a_stub_between_its_neighbours(drawing: Drawing, tmp_path: Path) -> None:
    drawing.wall("Left", (0, 0), 90, 3000)
    drawing.wall("Right", (500, 0), 90, 3000)
    drawing.wall("Stub", (100, 1500), 0, 300, 100)
    drawing.wall("Nib", (100, 500), 0, 150, 100)
    found = reasons(drawing.imported(tmp_path)[0])
    assert "Stub" not in found  # 500 mm from middle to middle
    assert "would be left" in found["Nib"]


@pytest.mark.parametrize("material", ["Concrete - Cast In Situ", "C30/37 concrete", "Stahlbeton"])
def test_concrete_is_not_taken(material: str, drawing: Drawing, tmp_path: Path) -> None:
    drawing.material(drawing.wall("Foundation"), material)
    assert reasons(drawing.imported(tmp_path)[0])["Foundation"].startswith("concrete, not a wood panel")


@pytest.mark.parametrize("material", ["Concrete Block", "Masonry - Brick", "stone_sand-lime"])
def test_masonry_gets_the_thickest_assembly_and_a_remark(material: str, drawing: Drawing, tmp_path: Path) -> None:
    drawing.material(drawing.wall("Party", thickness=120), material)
    intake, spec = drawing.imported(tmp_path)
    assert lines(spec)["Party"].assembly == "interior-2x8"
    assert f"material in the model: {material}; confirm" in intake.spec_text
    notes = next(taken.notes for taken in intake.taken_walls if taken.name == "Party")
    assert "masonry in the model, see its assembly; confirm" in notes


@pytest.mark.parametrize("material", ["Rock wool insulation", "Gypsum board", "Stone wool", "Softwood"])
def test_what_only_sounds_like_masonry_is_not(material: str, drawing: Drawing, tmp_path: Path) -> None:
    drawing.material(drawing.wall("Party", thickness=115), material)
    assert lines(drawing.imported(tmp_path)[1])["Party"].assembly == "interior-2x4"


@pytest.mark.parametrize(
    ("thickness", "stock"),
    [(63.5, "2x3"), (89, "2x4"), (100, "2x4"), (115, "2x4"), (125, "2x4"), (140, "2x6"), (165, "2x6"), (200, "2x8")],
)
def test_an_interior_wall_gets_the_framing_that_fits_with_up_to_two_boards(
    thickness: float, stock: str, drawing: Drawing, tmp_path: Path
) -> None:
    drawing.wall("Partition", thickness=thickness, IsExternal=False)
    _, spec = drawing.imported(tmp_path)
    assert lines(spec)["Partition"].assembly == f"interior-{stock}"


@pytest.mark.parametrize(("thickness", "stock"), [(150, "2x4"), (165, "2x4"), (200, "2x6"), (215, "2x6"), (245, "2x8")])
def test_an_exterior_wall_gets_the_assembly_that_fits_with_up_to_one_board(
    thickness: float, stock: str, drawing: Drawing, tmp_path: Path
) -> None:
    drawing.wall("Front", thickness=thickness, IsExternal=True)
    intake, spec = drawing.imported(tmp_path)
    assert lines(spec)["Front"].assembly == f"exterior-{stock}"
    assert next(taken.notes for taken in intake.taken_walls if taken.name == "Front") == (
        "stands free: which face is the weather side is a guess; confirm",
    )


def test_a_wall_much_thicker_than_any_assembly_is_taken_with_a_remark(drawing: Drawing, tmp_path: Path) -> None:
    drawing.wall("Thick", thickness=420, IsExternal=False)
    intake, _ = drawing.imported(tmp_path)
    assert "420 mm thick in the model, 184.2 mm as interior-2x8; confirm" in intake.spec_text


def test_assemblies_take_their_depths_from_the_catalog() -> None:
    by_name = {stack.name: stack for stack in stacks(Catalog.default())}
    exterior = by_name["exterior-2x6"]
    # PS 20 sizes: 2x6 is 5-1/2 in. wide, a 2x3 strap lies flat at 1-1/2 in.; both sheathings are 7/16 in.
    assert exterior.thickness == pytest.approx((5.5 + 1.5 + 2 * 7 / 16) * 25.4)
    assert by_name["interior-2x4"].thickness == pytest.approx(3.5 * 25.4)


def test_flags_that_contradict_the_plan_are_remarked(drawing: Drawing, tmp_path: Path) -> None:
    for n, (at, degrees) in enumerate([((0, 0), 0), ((4000, 0), 90), ((4000, 4000), 180), ((0, 4000), 270)]):
        drawing.wall(f"Side {n}", at, degrees, IsExternal=n != 0)
    drawing.wall("Middle", (100, 2000), 0, 3800, IsExternal=True)
    intake, spec = drawing.imported(tmp_path)
    walls, notes = lines(spec), {taken.name: taken.notes for taken in intake.taken_walls}
    assert not walls["Middle"].exterior
    assert "both faces look into the building" in notes["Middle"][0]
    assert not walls["Side-0"].exterior
    assert "one face looks outside" in notes["Side 0"][0]
    assert [walls[f"Side-{n}"].exterior for n in (1, 2, 3)] == [True] * 3


@pytest.mark.parametrize(("flags", "written"), [((False, False), None), ((True, False), False), ((None, None), None)])
def test_a_bearing_flag_that_is_false_everywhere_is_not_believed(
    flags: tuple[bool | None, bool | None], written: bool | None, drawing: Drawing, tmp_path: Path
) -> None:
    for n, flag in enumerate(flags):
        common = {} if flag is None else {"LoadBearing": flag}
        drawing.wall(f"Side {n}", (0, 5000 * n), 0, IsExternal=True, **common)
    intake, spec = drawing.imported(tmp_path)
    assert lines(spec)["Side-1"].bearing is written
    assert ("LoadBearing is FALSE on every exterior wall" in intake.spec_text) == (flags == (False, False))


def test_an_interior_wall_that_bears_says_so(drawing: Drawing, tmp_path: Path) -> None:
    drawing.wall("Spine", IsExternal=False, LoadBearing=True)
    drawing.wall("Screen", (0, 3000), IsExternal=False, LoadBearing=False)
    found = lines(drawing.imported(tmp_path)[1])
    assert (found["Spine"].bearing, found["Screen"].bearing) == (True, None)


@pytest.mark.parametrize("kind", ["mapped", "two solids", "elevation"])
def test_bodies_of_every_make_are_read_alike(kind: str, drawing: Drawing, tmp_path: Path) -> None:
    block = drawing.block(4000, 200, 2400)
    if kind == "mapped":
        source = drawing.make(
            "IfcRepresentationMap",
            MappingOrigin=drawing.place3(),
            MappedRepresentation=drawing.shape([block]).Representations[0],
        )
        target = drawing.make("IfcCartesianTransformationOperator3D", LocalOrigin=drawing.point(0, 0, 0), Scale=1.0)
        bodies = [drawing.make("IfcMappedItem", MappingSource=source, MappingTarget=target)]
    elif kind == "two solids":
        bodies = [drawing.block(2500, 200, 2400), drawing.block(1500, 200, 2400, x0=2500)]
    else:
        bodies = [drawing.upright([(0, 0), (4000, 0), (4000, 2400), (0, 2400)], 200)]
    drawing.wall("Plain", (0, 0), 30, bodies=bodies, IsExternal=False)
    drawing.wall("Other", (0, 9000), 30, bodies=[block], IsExternal=False)
    found = lines(drawing.imported(tmp_path)[1])
    moved = np.add([found["Plain"].start, found["Plain"].end], (0, 9000))
    np.testing.assert_allclose(moved, [found["Other"].start, found["Other"].end], atol=0.1)
    assert found["Plain"].assembly == found["Other"].assembly


def test_ends_flared_or_mitred_by_joins_do_not_change_the_thickness(drawing: Drawing, tmp_path: Path) -> None:
    flared = [(0, -150), (300, -150), (300, -100), (3700, -100), (3700, -150), (4000, -150)]
    ring = [*flared, *[(x, -y) for x, y in flared[::-1]]]
    drawing.wall("Flared", bodies=[drawing.prism(ring, 2400)], IsExternal=False)
    mitred = [(0, -100), (4000, -100), (3800, 100), (200, 100)]
    drawing.wall("Mitred", (0, 6000), bodies=[drawing.prism(mitred, 2400)], axis=False, IsExternal=False)
    found = lines(drawing.imported(tmp_path)[1])
    assert found["Flared"].assembly == found["Mitred"].assembly == "interior-2x8"
    assert found["Mitred"].start[1] == pytest.approx(6000)
