"""A wall at a gable reaches up to the underside of the rafters, whatever their seat and slope."""

from __future__ import annotations

import itertools
import json
import math
from typing import Any

import pytest

from panelgen.api import check, design
from panelgen.checks.scene import Scene
from panelgen.checks.shell.gaps import joint_gaps
from panelgen.checks.shell.standing import Standing
from panelgen.model import House, JointKind, Panel, PanelKind, Role
from panelgen.spec.loader import loads
from tests.random_houses import random_spec

FOOT = 304.8
SEED = 0
"""A house of one storey with hips and no gables, of which only the walls' names are kept."""


def house(rise: int, heights: dict[str, int] | None = None, **edges: dict[str, Any]) -> House:
    """A rectangle of 24 by 16 ft under one roof, with some edges other than plain eaves, walls of some heights, in."""
    spec = random_spec(SEED)
    ring = [(0, 0), (288, 0), (288, 192), (0, 192)]
    corners = [{"wall": f"W{n}", "at": list(point)} for n, point in enumerate(ring)]
    for corner in corners:
        corner |= {"height": heights[corner["wall"]]} if heights and corner["wall"] in heights else {}
    level = {"id": "1", "elevation": 0, "height": 97.125, "outlines": [{"assembly": "exterior", "corners": corners}]}
    roof = {"id": "R1", "level": "1", "assembly": "roof", "rise": rise, "run": 12}
    roof["edges"] = [{"edge": name, **edge} for name, edge in edges.items()]
    spec |= {"levels": [level], "openings": [], "floors": [], "roofs": [roof]}
    spec.pop("ceilings", None)
    return design(loads(json.dumps(spec)))


def panels(made: House, wall: str) -> list[Panel]:
    return [panel for panel in made.panels if panel.wall == wall]


def above_plate(made: House, wall: str, along: float) -> float:
    """How high the framing of a wall goes at a place along it, over the plates of the eave walls, mm."""
    for panel in panels(made, wall):
        x = along - panel.wall_start
        tops = sorted((px, py) for px, py in panel.profile if py > 0.0)
        for (xa, ya), (xb, yb) in itertools.pairwise(tops):
            if xa - 1e-6 <= x <= xb + 1e-6:
                return ya + (yb - ya) * (x - xa) / (xb - xa) - 97.125 * 25.4
    raise AssertionError(f"no panel of {wall} at {along}")


@pytest.mark.parametrize("rise", [4, 6, 9])
def test_a_gable_rises_by_the_slope_to_the_middle(rise: int) -> None:
    """Half of 16 ft at `rise` in 12."""
    made = house(rise, W1={"kind": "gable"}, W3={"kind": "gable"})
    for wall in ("W1", "W3"):
        quarter, middle = above_plate(made, wall, 4 * FOOT), above_plate(made, wall, 8 * FOOT)
        assert middle - quarter == pytest.approx(4 * FOOT * rise / 12, abs=0.01)
        assert above_plate(made, wall, 12 * FOOT) == pytest.approx(quarter, abs=0.01)


@pytest.mark.parametrize("rise", [4, 9])
def test_the_top_of_a_gable_is_the_underside_of_the_rafters(rise: int) -> None:
    made = house(rise, W1={"kind": "gable"}, W3={"kind": "gable"})
    roof = [panel for panel in made.panels if panel.kind is PanelKind.ROOF]
    for panel in panels(made, "W1"):
        x, y = max(panel.profile, key=lambda point: point[1])
        point = panel.frame.point(x, y, panel.framing.z1)
        depths = [float(one.frame.to_local([point])[0, 2]) for one in roof]
        assert min(abs(depth) for depth in depths) == pytest.approx(0.0, abs=0.01)


def test_the_high_wall_of_a_shed_is_level_and_its_sides_slope() -> None:
    gable = {"kind": "gable"}
    made = house(3, W1=gable, W2=gable, W3=gable)
    low, high = above_plate(made, "W2", 2 * FOOT), above_plate(made, "W2", 20 * FOOT)
    assert low == pytest.approx(high, abs=0.01)
    assert above_plate(made, "W1", 12 * FOOT) - above_plate(made, "W1", 4 * FOOT) == pytest.approx(8 * FOOT * 3 / 12)
    assert above_plate(made, "W3", 4 * FOOT) - above_plate(made, "W3", 12 * FOOT) == pytest.approx(8 * FOOT * 3 / 12)


def test_without_gables_every_wall_ends_at_its_plates() -> None:
    heights = {round(one.height, 3) for one in house(6).panels if one.kind is PanelKind.EXTERIOR_WALL}
    assert heights == {round(97.125 * 25.4, 3)}


def upper_seats(made: House) -> list[float]:
    """How long the cuts of the rafters are after that at their lower ends, mm along each."""
    roofs = [panel for panel in made.panels if panel.kind is PanelKind.ROOF]
    rafters = [stick for panel in roofs for stick in panel.members if stick.role is Role.RAFTER]
    return [notch.x1 - notch.x0 for stick in rafters for notch in sorted(stick.notches, key=lambda one: one.x0)[1:]]


SHED = {"W1": {"kind": "gable"}, "W2": {"kind": "gable"}, "W3": {"kind": "gable"}}


@pytest.mark.parametrize("rise", [1, 3, 6, 12])
def test_rafters_of_a_shed_are_seated_on_its_high_wall(rise: int) -> None:
    """1-1/2 in. on the plate behind 2x6 framing (IRC R802.6), cut from the face of the 2x3 straps in the room."""
    made = house(rise, **SHED)
    run = (7 / 16 + 1.5 + 1.5) * 25.4
    assert upper_seats(made)
    assert upper_seats(made) == [pytest.approx(run * math.hypot(12, rise) / 12)] * len(upper_seats(made))


@pytest.mark.parametrize("rise", [1, 3, 6, 12])
def test_a_shed_fits_its_walls(rise: int) -> None:
    made = house(rise, **SHED)
    assert [
        one for one in check(made) if one.code in {"joint.gap", "panel.panel", "sheet.panel", "weather.break"}
    ] == []
    gaps = list(joint_gaps(Standing.of(Scene.of(made.panels)), made.joints))
    assert {gap.joint.kind for gap in gaps} >= {JointKind.WALL_ROOF, JointKind.CORNER}
    assert [gap.joint.panels for gap in gaps if gap.width > 0.0] == []


def test_rafters_are_not_cut_for_a_wall_of_a_height_of_its_own() -> None:
    assert upper_seats(house(3, heights={"W2": 150}, **SHED)) == []
