"""Framing of a wall panel against the published framing rules and plain geometry."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.api import check
from panelgen.design import design
from panelgen.model import House, JointKind, Member, Panel, Role
from panelgen.spec import HouseSpec
from tests.design.builders import assembly, brief, frame, window
from tests.design.houses import house_data, one_wall

INCH = 25.4
WINDOW = {"id": "W1", "type": "window-30x48", "center": "8 ft", "sill": "31-1/2 in"}


def of(panel: Panel, *roles: Role) -> list[Member]:
    return [member for member in panel.members if member.role in roles]


def span_x(member: Member) -> tuple[float, float]:
    corners = member.corners()
    return float(corners[:, 0].min()), float(corners[:, 0].max())


def span_y(member: Member) -> tuple[float, float]:
    corners = member.corners()
    return float(corners[:, 1].min()), float(corners[:, 1].max())


def only_panel(house: House) -> Panel:
    (panel,) = house.panels
    return panel


def test_layout_is_24_inches_on_centre_and_goes_on_across_panels() -> None:
    house = design(one_wall("30 ft", shop={"line_length": "12 ft"}))
    centres = []
    for panel in house.panels:
        for stud in of(panel, Role.STUD):
            x0, x1 = span_x(stud)
            if "/stud-" in stud.id:
                centres.append(panel.wall_start + (x0 + x1) / 2)
    assert centres, "no common studs"
    assert all(abs(centre / (24 * INCH) - round(centre / (24 * INCH))) < 1e-9 for centre in centres)


def test_no_clear_gap_between_studs_exceeds_the_spacing() -> None:
    panel = only_panel(design(one_wall("16 ft", shop={"line_length": "16 ft"})))
    spans = sorted(span_x(stud) for stud in of(panel, Role.STUD, Role.POST, Role.KING))
    assert spans[0][0] == pytest.approx(0)
    assert spans[-1][1] == pytest.approx(panel.length)
    assert max(b[0] - a[1] for a, b in pairwise(spans)) <= 24 * INCH - 1.5 * INCH + 1e-6


def test_studs_run_unbroken_from_plate_to_plate() -> None:
    """IRC R602.3: studs are continuous from the bottom plate to the top plates. 97-1/8 less three plates is 92-5/8."""
    panel = only_panel(design(one_wall("8 ft", wall={"bearing": True}, shop={"line_length": "16 ft"})))
    studs = of(panel, Role.STUD)
    assert {round(stud.length / INCH, 6) for stud in studs} == {92.625}
    assert all(span_y(stud)[0] == pytest.approx(1.5 * INCH) for stud in studs)


def test_cap_plate_joints_are_24_inches_from_the_panel_joint() -> None:
    """IRC R602.3.2: joints in the two top plates are offset at least 24 in. (STANDARDS 3.2)."""
    house = design(one_wall("30 ft", shop={"line_length": "12 ft"}))
    joints = [panel.wall_start for panel in house.panels[1:]]
    ends = []
    for panel in house.panels:
        for plate in of(panel, Role.CAP_PLATE):
            ends += [panel.wall_start + x for x in span_x(plate)]
    inner = [x for x in ends if 1 < x < 30 * 12 * INCH - 1]
    assert inner
    assert all(min(abs(x - joint) for joint in joints) >= 24 * INCH - 1e-6 for x in inner)
    loose = [plate for panel in house.panels for plate in of(panel, Role.CAP_PLATE) if plate.loose]
    assert len(loose) == len(joints)


def test_cap_plate_covers_the_whole_wall_once() -> None:
    house = design(one_wall("30 ft", shop={"line_length": "12 ft"}))
    spans = sorted(
        (panel.wall_start + a, panel.wall_start + b)
        for panel in house.panels
        for a, b in map(span_x, of(panel, Role.CAP_PLATE))
    )
    assert spans[0][0] == pytest.approx(0)
    assert spans[-1][1] == pytest.approx(30 * 12 * INCH)
    assert all(a[1] == pytest.approx(b[0]) for a, b in pairwise(spans))


def test_a_corner_has_three_studs_within_reach_of_the_other_wall() -> None:
    """IBC 2018 2308.5.2: not less than three studs at a corner (STANDARDS 3.2, grade A)."""
    corners = [{"wall": f"E{n}", "at": at} for n, at in enumerate([[0, 0], [4000, 0], [4000, 3000], [0, 3000]])]
    level = {"id": "1", "elevation": 0, "height": 2467, "outlines": [{"assembly": "exterior", "corners": corners}]}
    house = design(HouseSpec.model_validate(house_data([level])))
    corners_of_house = [joint for joint in house.joints if joint.kind is JointKind.CORNER]
    assert len(corners_of_house) == 4
    for joint in corners_of_house:
        near = 0
        for label in joint.panels:
            panel = house.panel(label)
            for stud in of(panel, Role.STUD, Role.POST, Role.KING):
                middle = panel.frame.to_parent(stud.corners().mean(axis=0)[None])[0]
                near += math.dist(middle[:2], joint.point[:2]) < 260
        assert near >= 3, joint


def test_opening_has_kings_jacks_header_sill_and_cripples_that_fit_each_other() -> None:
    panel = only_panel(design(one_wall("16 ft", [WINDOW], shop={"line_length": "16 ft"})))
    (opening,) = panel.openings
    assert opening.width == pytest.approx(31 * INCH)
    assert opening.height == pytest.approx(49 * INCH)
    assert opening.header is not None
    plies = of(panel, Role.HEADER)
    assert len(plies) == opening.header.plies == 2
    jacks = of(panel, Role.JACK)
    assert len(jacks) == 2 * opening.header.jacks
    header_bottom = span_y(plies[0])[0]
    assert all(span_y(jack)[1] == pytest.approx(header_bottom) for jack in jacks)
    assert min(a for a, _ in map(span_x, plies)) == pytest.approx(min(a for a, _ in map(span_x, jacks)))
    kings = sorted(map(span_x, of(panel, Role.KING)))
    assert kings[0][1] == pytest.approx(span_x(plies[0])[0])
    assert kings[1][0] == pytest.approx(span_x(plies[0])[1])
    (sill,) = of(panel, Role.SILL)
    assert span_y(sill)[1] == pytest.approx(opening.y0)
    for cripple in of(panel, Role.CRIPPLE):
        if "/packing" in cripple.id:
            assert span_y(cripple) == pytest.approx(span_y(plies[0]))
            continue
        top = span_y(cripple)[1]
        assert top == pytest.approx(span_y(sill)[0]) or top == pytest.approx(header_bottom)


def test_packing_fills_what_a_header_leaves_behind_it() -> None:
    """Two plies, 3 in., in a 2x6 wall leave 2-1/2 in. for a 2x3 on edge; in a 2x4 wall 1/2 in. holds no nail."""
    wide = window(900.0, 2650.0, 800.0, 2000.0)
    packed = [member for member in frame(brief(12 * 304.8, 97.125 * INCH, wide)) if "/packing" in member.id]
    assert [member.id for member in packed] == ["A/w1/packing-2", "A/w1/packing-3", "A/w1/packing-4"]
    assert {(member.stock, member.frame.origin[2]) for member in packed} == {("2x3", 0.0)}
    assert [member.width for member in packed] == pytest.approx([2.5 * INCH] * 3)
    assert [sum(span_x(member)) / 2 for member in packed] == pytest.approx([n * 24 * INCH for n in (2, 3, 4)])
    thin = brief(12 * 304.8, 97.125 * INCH, wide, walls=assembly(stock="2x4"))
    assert [member for member in frame(thin) if "/packing" in member.id] == []


def test_nothing_stands_in_a_rough_opening() -> None:
    door = {"id": "D1", "type": "door-36x80", "center": "5 ft"}
    panel = only_panel(design(one_wall("16 ft", [door, WINDOW | {"center": "11 ft"}], shop={"line_length": "16 ft"})))
    for opening in panel.openings:
        for member in panel.members:
            (x0, x1), (y0, y1) = span_x(member), span_y(member)
            apart = x1 <= opening.x0 + 1e-6 or x0 >= opening.x1 - 1e-6
            assert apart or y1 <= opening.y0 + 1e-6 or y0 >= opening.y1 - 1e-6, member.id


def test_no_header_is_a_stop_finding_with_the_reason() -> None:
    gate = {"id": "G1", "type": "gate-144x80", "center": "8 ft"}
    panel = only_panel(design(one_wall("16 ft", [gate], shop={"line_length": "16 ft"})))
    (finding,) = [finding for finding in panel.findings if finding.code == "header.none"]
    assert finding.severity == "stop"
    assert "engineer" in finding.words
    assert finding.parts == ("G1",)


def test_opening_at_the_panel_end_is_crowded() -> None:
    panel = only_panel(design(one_wall("8 ft", [WINDOW | {"center": "17 in"}], shop={"line_length": "16 ft"})))
    assert "opening.crowded" in {finding.code for finding in panel.findings}


@pytest.mark.parametrize(("sill", "code"), [(43.5, "header.none"), (44.0, "opening.high"), (47.0, "opening.high")])
def test_a_head_among_the_plates_is_one_finding_and_nothing_overlaps(sill: float, code: str) -> None:
    """A 48 in. unit opens 49 in. high; 97-1/8 in. less three plates of 1-1/2 in. leave 92-5/8 in. for its head."""
    house = design(one_wall("16 ft", [WINDOW | {"sill": f"{sill} in"}], shop={"line_length": "16 ft"}))
    (finding,) = [finding for finding in check(house) if finding.severity == "stop"]
    assert finding.code == code
    if code == "opening.high":
        assert finding.limit == pytest.approx(92.625 * INCH)
        assert finding.value == pytest.approx((sill + 49.0) * INCH)


def test_rake_plate_matches_the_army_rafter_example() -> None:
    """US Army Engineer carpentry text: span 20 ft 8 in., 13 in. rise a foot, run 10 ft 4 in. gives 17.69 x 10-1/3 =
    182.79 in. (15 ft 3 in.); exact 182.815 (STANDARDS 8.1, grade A). The gable's cap plate is that line."""
    wall = {"bearing": False, "gable": {"eave": "24 in", "rise": "13 in", "run": "12 in"}}
    panel = only_panel(design(one_wall("20'-8\"", wall=wall, shop={"line_length": "24 ft", "line_height": "20 ft"})))
    plates = of(panel, Role.CAP_PLATE)
    drift = 1.5 * INCH * 13 / 12  # the plumb cut adds this to the long point
    for plate in plates:
        assert (plate.length - drift) / INCH == pytest.approx(182.815, abs=1e-3)
        assert abs(plate.end.bevel_degrees) == pytest.approx(math.degrees(math.atan2(13, 12)))
    assert len(plates) == 2


@settings(max_examples=40, deadline=None)
@given(eave=st.integers(200, 1500), rise=st.integers(1, 18), length=st.integers(2000, 7000), peak=st.floats(0, 1))
def test_studs_of_any_rake_meet_the_plates(eave: int, rise: int, length: int, peak: float) -> None:
    gable = {"eave": eave, "rise": rise, "run": 12, "peak": round(peak * length, 1)}
    panel = only_panel(design(one_wall(length, wall={"bearing": False, "gable": gable}, shop={"line_length": "60 ft"})))
    plates = of(panel, Role.TOP_PLATE)
    for stud in of(panel, Role.STUD, Role.POST):
        top = stud.corners()[4:]
        under = min(_gap_under(plate, point) for point in top for plate in plates if _covers(plate, float(point[0])))
        assert under == pytest.approx(0, abs=1e-6), stud.id


def _covers(plate: Member, x: float) -> bool:
    x0, x1 = span_x(plate)
    return x0 - 1e-6 <= x <= x1 + 1e-6


def _gap_under(plate: Member, point: object) -> float:
    """Distance from a point to the underside of a plate, square to it; positive below it."""
    local = plate.frame.to_local([point])[0]
    return float(local[2] - plate.thickness)


def test_ids_stay_when_an_opening_moves() -> None:
    before = only_panel(design(one_wall("16 ft", [WINDOW], shop={"line_length": "16 ft"})))
    moved = only_panel(design(one_wall("16 ft", [WINDOW | {"center": "8.5 ft"}], shop={"line_length": "16 ft"})))
    far = [member.id for member in before.members if "/stud-" in member.id and span_x(member)[1] < 1800]
    assert far
    assert set(far) <= {member.id for member in moved.members}


def test_marks_run_left_to_right_without_gaps() -> None:
    panel = only_panel(design(one_wall("16 ft", [WINDOW], shop={"line_length": "16 ft"})))
    framing = [member for member in panel.members if member.layer == "framing"]
    numbers = [int(member.mark.rsplit("-", 1)[1]) for member in framing]
    assert numbers == list(range(1, len(framing) + 1))
    lefts = [round(span_x(member)[0], 1) for member in framing]
    assert lefts == sorted(lefts)
    assert len({member.id for member in panel.members}) == len(panel.members)
