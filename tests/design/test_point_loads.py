"""Posts under loads from above: as many studs close beneath as bring the load. Common practice, no source."""

from __future__ import annotations

from itertools import pairwise

import pytest

from panelgen.api import check, design
from panelgen.model import House, Member, Role
from panelgen.spec import HouseSpec
from tests.design.houses import house_data, one_wall

INCH = 25.4
FOOT = 12 * INCH
FULL = (Role.STUD, Role.POST, Role.KING)
REACH = 5 * INCH
TWO_STUDS = {"id": "G1", "wall": "N1", "at": "7 ft", "count": 2, "reason": "girder"}
ON_LAYOUT = TWO_STUDS | {"at": "8 ft", "count": 3}


def posts(house: House) -> list[Member]:
    return [one for panel in house.panels for one in panel.members if one.why.rule == "post.load"]


def middle(house: House, member: Member) -> float:
    """Where a standing stick is along its wall, mm."""
    panel = next(panel for panel in house.panels if member in panel.members)
    corners = member.corners()
    return panel.wall_start + float(corners[:, 0].min() + corners[:, 0].max()) / 2


def standing_near(house: House, level: str, x: float) -> list[Member]:
    """The full-height sticks of a level within reach of wall x."""
    members = [one for panel in house.panels if panel.level == level for one in panel.members if one.role in FULL]
    return [one for one in members if abs(middle(house, one) - x) <= REACH + 1e-6]


def storeys(count: int, upper: dict[str, object] | None = None, **more: object) -> House:
    """Walls ``N1``, ``N2``, … of 24 ft over one another, a window in the highest one."""
    levels = [
        {"id": str(n), "height": "97-1/8 in", "has_floor": True}
        | {"walls": [{"wall": f"N{n}", "assembly": "exterior", "start": [0, 0], "end": ["24 ft", 0], "exterior": True}]}
        for n in range(1, count + 1)
    ]
    rows = [{"id": "U1", "wall": f"N{count}"} | upper] if upper else []
    return design(HouseSpec.model_validate(house_data(levels, openings=rows, **more), context={"unit": "mm"}))


@pytest.mark.parametrize(("post", "others"), [(TWO_STUDS, 0), (ON_LAYOUT, 1)])
def test_an_engineers_post_stands_where_it_is_asked_for(post: dict[str, object], others: int) -> None:
    """At 7 ft there is no stud of a 24 in. layout; at 8 ft there is one, which counts and keeps its place."""
    house = design(one_wall("16 ft", [], posts=[post]))
    x = float(str(post["at"]).split()[0]) * FOOT
    near = standing_near(house, "1", x)
    assert len(near) == post["count"]
    assert len(posts(house)) == len(near) - others
    assert sum(middle(house, one) == pytest.approx(x) for one in near) == 1
    assert [finding for finding in check(house) if finding.severity == "stop"] == []


def test_posts_of_one_load_stand_flush() -> None:
    house = design(one_wall("16 ft", [], posts=[ON_LAYOUT]))
    places = sorted(middle(house, one) for one in standing_near(house, "1", 8 * FOOT))
    assert [b - a for a, b in pairwise(places)] == pytest.approx([1.5 * INCH] * 2)


@pytest.mark.parametrize("levels", [2, 3])
def test_a_header_comes_down_through_all_levels(levels: int) -> None:
    """A 30 in. rough opening of one jack on each side; the next studs of the lower layout are 8 in. away."""
    house = storeys(levels, {"type": "window-30x48", "center": "11 ft", "sill": "31-1/2 in"})
    highest = (panel for panel in house.panels if panel.level == str(levels))
    upper = [one for panel in highest for one in panel.members if one.role is Role.JACK]
    assert len(upper) == 2
    for jack in upper:
        for level in range(1, levels):
            assert standing_near(house, str(level), middle(house, jack))
    assert [finding.code for finding in check(house) if finding.code.startswith("load.")] == []


def test_a_wall_that_bears_nothing_asks_for_no_posts() -> None:
    house = storeys(1, {"type": "window-30x48", "center": "11 ft", "sill": "31-1/2 in"})
    assert posts(house) == []


def test_a_post_in_an_opening_is_left_out() -> None:
    """What falls on the header below is for the checks to tell."""
    lower = {"id": "L1", "wall": "N1", "type": "gate-144x80", "center": "12 ft"}
    levels = [
        {"id": n, "height": "97-1/8 in"}
        | {"walls": [{"wall": f"N{n}", "assembly": "exterior", "start": [0, 0], "end": ["24 ft", 0], "exterior": True}]}
        for n in ("1", "2")
    ]
    rows = [lower, {"id": "U1", "wall": "N2", "type": "window-30x48", "center": "12 ft", "sill": "31-1/2 in"}]
    house = design(HouseSpec.model_validate(house_data(levels, openings=rows), context={"unit": "mm"}))
    assert posts(house) == []
    assert "load.header" in {finding.code for finding in check(house)}
