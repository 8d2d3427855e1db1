"""Lengths and cuts of dormers against the steel square and plain trigonometry.

The unit lengths of common rafters, in inches for a run of 12, stand on the blade of every framing square; they are
here from memory, and equal the square root of 144 and the square of the rise.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from panelgen.model import Member, Panel, Role
from tests.design.dormers.houses import FORMS, dormer_house, dormer_panels

SQUARE = {3: 12.37, 8: 14.42, 10: 15.62}
"""Rise in 12: length of a common rafter, both in inches."""

STUD, DEPTH, SHEET = 38.1, 139.7, 7 / 16 * 25.4
INSIDE = 1200.0
"""The width of the opening, between the inner faces of the cheeks' studs."""

OVERHANG = 152.4


@pytest.fixture(scope="module")
def shed() -> dict[str, Panel]:
    return dormer_panels(dormer_house(FORMS["shed"]))


@pytest.fixture(scope="module")
def gable() -> dict[str, Panel]:
    return dormer_panels(dormer_house(FORMS["gable"]))


def of_role(panel: Panel, role: Role) -> list[Member]:
    return sorted((one for one in panel.members if one.role is role), key=lambda one: one.frame.origin)


def in_house(panel: Panel, member: Member) -> np.ndarray:
    return panel.frame.to_parent(member.corners())


def test_common_rafters_of_a_gable_have_the_length_of_the_square(gable: dict[str, Panel]) -> None:
    panel = gable["roof-right"]
    run = INSIDE / 2 + DEPTH + OVERHANG - 2 * STUD  # from the inner face of the fascia to that of the ridge
    (rafter,) = (one for one in of_role(panel, Role.RAFTER) if one.id.endswith("rafter-1"))
    assert rafter.centre_length == pytest.approx(run * SQUARE[8] / 12, rel=1e-3)
    assert rafter.centre_length == pytest.approx(run * math.hypot(8, 12) / 12)


def test_rafters_of_a_shed_run_out_on_the_slope_below(shed: dict[str, Panel]) -> None:
    panel = shed["roof-front"]
    for rafter in of_role(panel, Role.RAFTER):
        # Ten and three in twelve: the roofs meet at the difference of their angles.
        angle = math.atan2(10, 12) - math.atan2(3, 12)
        assert rafter.end.across_width == pytest.approx(1 / math.tan(angle))
        corners = in_house(panel, rafter)
        upper = corners[[6, 7]]  # the far end of the upper edge
        lower = corners[[4, 5]]
        rise, run = upper[:, 2] - lower[:, 2], upper[:, 1] - lower[:, 1]
        assert rise / run == pytest.approx(np.full(2, 10 / 12))


def test_a_shed_meets_the_roof_where_its_height_is_used_up(shed: dict[str, Panel]) -> None:
    front, panel = shed["front"], shed["roof-front"]
    rafter = of_role(panel, Role.RAFTER)[0]
    feather = in_house(panel, rafter)[[6, 7], 1].max()
    outer = front.frame.origin[1] - DEPTH  # the outer face of the front wall's framing
    over_plate = in_house(panel, rafter)
    top = over_plate[[2, 6]]  # along the upper edge
    at_front = top[0, 2] + (outer - top[0, 1]) * (top[1, 2] - top[0, 2]) / (top[1, 1] - top[0, 1])
    height = at_front - front.frame.origin[2]  # of the rafters over the sheathing there
    assert feather - outer == pytest.approx(height / (10 / 12 - 3 / 12))


def test_rafters_of_a_shed_are_seated_on_both_walls(shed: dict[str, Panel]) -> None:
    slope, secant = 3 / 12, math.hypot(3, 12) / 12
    plates = [
        shed["front"].frame.origin[2] + 1300.0,
        max(in_house(shed["back"], one)[:, 2].max() for one in shed["back"].members),
    ]
    panel = shed["roof-front"]
    over = [one for one in of_role(panel, Role.RAFTER) if "rake" not in one.id]
    assert len(over) >= 3
    for rafter in over:
        assert [notch.is_birdsmouth for notch in rafter.notches] == [True, True]
        for notch, plate in zip(rafter.notches, plates, strict=True):
            apex, end = (
                panel.frame.point(*rafter.frame.point(x, y, 0.0))
                for x, y in ((notch.apex or 0.0, notch.depth), (notch.x1, 0.0))
            )
            assert apex[2] == pytest.approx(plate)
            assert end[2] == pytest.approx(plate)
        back = rafter.notches[1]
        # 1-1/2 in. of bearing on wood (IRC R802.6), and the wall's inner sheathing before it.
        assert (back.x1 - back.x0) / secant == pytest.approx(1.5 * 25.4 + SHEET)
        assert back.depth == pytest.approx((1.5 * 25.4 + SHEET) * slope / secant)


def test_a_rafter_of_a_gable_stands_over_the_back_wall(gable: dict[str, Panel]) -> None:
    face = gable["back"].frame.origin[1]  # the inner face of its studs
    for side in ("left", "right"):
        panel = gable[f"roof-{side}"]
        spans = [in_house(panel, one)[:, 1] for one in of_role(panel, Role.RAFTER)]
        assert any(span.min() < face - SHEET and span.max() > face for span in spans)


def test_studs_of_a_cheek_have_one_common_difference(shed: dict[str, Panel], gable: dict[str, Panel]) -> None:
    for panels, slopes in ((shed, 10 / 12 - 3 / 12), (gable, 10 / 12)):
        for name in ("left", "right"):
            studs = [one for one in of_role(panels[name], Role.STUD) if one.id.split("/")[1].startswith("stud-")]
            lengths = sorted((one.centre_length for one in studs), reverse=True)
            assert len(lengths) >= 2
            # Studs under a rake differ by their spacing times the slope: framing practice, as for gable studs.
            assert -np.diff(lengths) == pytest.approx(np.full(len(lengths) - 1, 24 * 25.4 * slopes))


def test_plates_of_a_cheek_have_the_length_of_the_square(gable: dict[str, Panel]) -> None:
    cheek = gable["right"]
    (sole,) = of_role(cheek, Role.BOTTOM_PLATE)
    run = cheek.length  # level, to where the top of the plates meets the sheathing
    height = 1300.0 - (DEPTH + SHEET) * 10 / 12  # of its front end, behind the front wall's inner sheathing
    assert run == pytest.approx(height / (10 / 12))
    assert height == pytest.approx(cheek.profile[-1][1] - cheek.profile[0][1])
    # The lower face of the plate on the slope is its longest.
    corners = sole.corners()
    assert np.linalg.norm(corners[5] - corners[1]) == pytest.approx(run * SQUARE[10] / 12, rel=1e-3)


def test_sticks_of_the_front_wall_are_cut_to_the_slope(shed: dict[str, Panel], gable: dict[str, Panel]) -> None:
    for panels in (shed, gable):
        for name, sense in (("front", -1.0), ("back", 1.0)):
            for role in (Role.STUD, Role.KING, Role.JACK):
                for stick in of_role(panels[name], role):
                    assert math.tan(math.radians(stick.start.miter_degrees)) == pytest.approx(sense * 10 / 12)
            for plate in of_role(panels[name], Role.BOTTOM_PLATE):
                z = [point[2] for point in plate.corners()]
                assert min(z) == pytest.approx(0.0)
                assert max(z) == pytest.approx(DEPTH)


def test_what_stands_on_the_roof_touches_its_sheathing(shed: dict[str, Panel], gable: dict[str, Panel]) -> None:
    for panels in (shed, gable):
        front = panels["front"]
        origin = front.frame.point(0.0, 0.0, DEPTH)

        def over(panel: Panel, origin: tuple[float, float, float] = origin) -> float:
            lowest = [
                (corners[:, 2] - origin[2] - (corners[:, 1] - origin[1]) * 10 / 12).min()
                for corners in (in_house(panel, member) for member in panel.members)
            ]
            return float(min(lowest))

        for panel in panels.values():
            assert over(panel) == pytest.approx(0.0, abs=1e-6)
