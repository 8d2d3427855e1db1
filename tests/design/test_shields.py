"""Shield plates: exactly where a run is nearer to a face of wood than the rule set allows."""

from __future__ import annotations

from typing import Any

import pytest

from panelgen.design import design
from panelgen.model import Hardware, HardwareKind, House, LayerKind, Role
from tests.design.houses import one_wall

INCH = 25.4
HOLE = 5 / 8 * INCH + 1 / 8 * INCH
"""1/2 in. PEX and what a bore adds to a pipe."""


def designed(size: str, depth: Any, assembly: str = "exterior", system: str = "cold water", **fields: Any) -> House:
    path = [["1 ft", "3 ft", depth], ["7 ft", "3 ft", depth]]
    run = {"id": "R1", "system": system, "size": size, "wall": "N1", "path": path} | fields
    return design(one_wall("8 ft", assembly=assembly, runs=[run]))


def plates(house: House) -> list[Hardware]:
    return [part for panel in house.panels for part in panel.hardware if part.kind is HardwareKind.SHIELD]


@pytest.mark.parametrize(
    ("size", "system", "edge", "hole"),
    [("pex-1/2", "cold water", 1.5, HOLE), ("nm-12/2", "power", 1.25, 0.422 * INCH + 0.25 * INCH)],
)
@pytest.mark.parametrize("face", ["inner", "outer"])
def test_the_threshold_in_a_bored_stud(size: str, system: str, edge: float, hole: float, face: str) -> None:
    """IPC 305: pipe 1-1/2 in.; NEC 300.4(A)(1): cable 1-1/4 in., from the edge of the hole to that of the wood."""
    least = edge * INCH + hole / 2
    for off, shielded in ((0.1, False), (-0.1, True)):
        depth = least + off if face == "inner" else 5.5 * INCH - least - off
        found = plates(designed(size, depth, system=system))
        assert bool(found) == shielded
        assert {plate.id.rsplit("-", 1)[1] for plate in found} <= {face}


def test_one_plate_for_each_stud_and_face() -> None:
    """A 2x4 leaves 1.375 in. to each side of the hole for 1/2 in. PEX: less than 1-1/2 in. on both."""
    house = designed("pex-1/2", "framing", assembly="bare")
    (panel,) = house.panels
    bored = [member for member in panel.members if member.bores]
    found = plates(house)
    assert len(found) == 2 * len(bored) > 0
    assert len({plate.id for plate in found}) == len(found)
    for plate in found:
        assert (plate.product, plate.count) == ("shield-1-1/2x2-1/2", 1)
        assert plate.parts[1] == "R1.1"
        (member,) = [member for member in bored if member.id == plate.parts[0]]
        assert plate.point[0] == pytest.approx(member.frame.origin[0] - member.thickness / 2, abs=member.thickness)
        assert plate.point[1] == pytest.approx(3 * 12 * INCH)
        assert plate.point[2] == pytest.approx(0.0) or plate.point[2] == pytest.approx(3.5 * INCH)
        assert "IPC" in plate.why.source


def test_at_the_plates_of_a_wall_steel_reaches_past_them() -> None:
    """IPC 305: 2 in. above the sole plate and below the top plate: 1-1/2 in. of plate and 2 in. take a 5 in. piece."""
    path = [["3 ft", 0, "framing"], ["3 ft", "97-1/8 in", "framing"]]
    run = {"id": "R1", "system": "cold water", "size": "pex-1/2", "wall": "N1", "path": path}
    (panel,) = design(one_wall("8 ft", assembly="bare", runs=[run])).panels
    roles = {member.id: member.role for member in panel.members}
    found = {roles[plate.parts[0]]: plate.product for plate in panel.hardware if plate.kind is HardwareKind.SHIELD}
    assert found == {
        Role.BOTTOM_PLATE: "shield-1-1/2x5",
        Role.TOP_PLATE: "shield-1-1/2x5",
        Role.CAP_PLATE: "shield-1-1/2x2-1/2",
    }


def test_a_wide_hole_takes_several_plates_side_by_side() -> None:
    path = [["3 ft", 0, "framing"], ["3 ft", "97-1/8 in", "framing"]]
    run = {"id": "R1", "system": "drain", "size": "pvc-3", "wall": "N1", "path": path}
    (panel,) = design(one_wall("8 ft", runs=[run])).panels
    counts = {plate.count for plate in panel.hardware if plate.kind is HardwareKind.SHIELD}
    assert counts == {3}  # 3-5/8 in. of hole, 1-1/2 in. of plate


def test_a_cable_in_the_cavity_is_shielded_where_it_passes_straps() -> None:
    path = [["3 ft", 300, "cavity"], ["3 ft", 900, "cavity"]]
    run = {"id": "R1", "system": "power", "size": "nm-12/2", "wall": "N1", "path": path}
    (panel,) = design(one_wall("8 ft", runs=[run])).panels
    (plate,) = [part for part in panel.hardware if part.kind is HardwareKind.SHIELD]
    straps = next(layer for layer in panel.layers if layer.kind is LayerKind.STRAPPING)
    row = next(member for member in panel.members if member.id == plate.parts[1])
    assert row.role is Role.STRAP
    assert plate.point == pytest.approx((914.4, row.frame.origin[1] + row.width / 2, straps.z0))
    assert "NEC" in plate.why.source
    assert plate.product == "shield-1-1/2x8"  # 2-1/2 in. of strap, and the cable 1-1/4 in. and more on each side


def test_between_straps_a_cable_needs_no_plate() -> None:
    path = [["2 ft", 350, "cavity"], ["5 ft", 350, "cavity"]]
    run = {"id": "R1", "system": "power", "size": "nm-12/2", "wall": "N1", "path": path}
    assert plates(design(one_wall("8 ft", runs=[run]))) == []


def test_a_run_deep_in_the_cavity_needs_no_plate() -> None:
    """Behind straps on the flat the cavity is 1-1/2 in. deep: a cable at its back is 1-1/4 in. from its front."""
    back = -7 / 16 * INCH - 0.06 * INCH
    path = [["3 ft", 300, back], ["3 ft", 900, back]]
    run = {"id": "R1", "system": "power", "diameter": 3, "wall": "N1", "path": path}
    assert plates(design(one_wall("8 ft", runs=[run]))) == []


def test_a_run_out_through_the_wall_is_not_shut_in() -> None:
    path = [["3 ft", 620, -60], ["3 ft", 620, 200]]
    run = {"id": "R1", "system": "return air", "size": "duct-4", "wall": "N1", "path": path}
    assert plates(design(one_wall("8 ft", runs=[run]))) == []
