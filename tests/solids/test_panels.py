"""The solids of whole panels: all parts, in place, shared by equal parts, never mirrored."""

from __future__ import annotations

import cadquery as cq
import pytest
from hypothesis import given, settings

from panelgen.errors import GeometryError
from panelgen.geometry.frames import WORLD, Frame
from panelgen.model import Bore, Panel
from panelgen.model.groups import PartGroup
from panelgen.model.palette import GROUP_COLOURS
from panelgen.model.volumes import part_volumes
from panelgen.solids import PlacedSolid, Prototypes, house_solids, located, panel_solids, to_cadquery, volume_of
from tests.factories import FRAMING, OUTER, WIDE, raked_panel, small_house, stick, wall_panel
from tests.strategies import frames

PANELS = {"wall": wall_panel(), "blank wall": wall_panel(window=False), "raked": raked_panel()}


def bounds(solid: PlacedSolid) -> cq.BoundBox:
    return to_cadquery(solid).BoundingBox()


@pytest.mark.parametrize("panel", PANELS.values(), ids=PANELS)
def test_every_part_has_its_volume(panel: Panel) -> None:
    found: dict[str, float] = {}
    for solid in panel_solids(panel):
        found[solid.part] = found.get(solid.part, 0.0) + volume_of(located(solid))
    assert found == pytest.approx(dict(part_volumes(panel)), rel=1e-7)


@pytest.mark.parametrize("panel", PANELS.values(), ids=PANELS)
def test_members_fill_their_corners(panel: Panel) -> None:
    boxes = {solid.part: bounds(solid) for solid in panel_solids(panel)}
    for member in panel.members:
        low, high = member.corners().min(axis=0), member.corners().max(axis=0)
        box = boxes[member.id]
        assert (box.xmin, box.ymin, box.zmin) == pytest.approx(low, abs=1e-5)
        assert (box.xmax, box.ymax, box.zmax) == pytest.approx(high, abs=1e-5)


def test_parts_are_named_grouped_and_coloured() -> None:
    solids = {solid.part: solid for solid in panel_solids(PANELS["wall"])}
    stud, strap, outer = solids["1W01.s00"], solids["1W01.t0"], solids["1W01.outer0"]
    assert (stud.name, stud.group) == ("1W01-04", PartGroup.FRAMING)
    assert (strap.name, strap.group) == ("1W01.t0", PartGroup.STRAPPING)
    assert (outer.name, outer.group) == ("1W01-O1", PartGroup.OUTER_SHEATHING)
    assert solids["1W01.inner0"].group is PartGroup.INNER_SHEATHING
    assert {solids[part].group for part in ("1W01.box", "1W01.vent")} == {PartGroup.SERVICES}
    assert {solid.colour for solid in solids.values()} == {*GROUP_COLOURS.values()} - {GROUP_COLOURS[PartGroup.TRUSSES]}


def test_layers_lie_where_the_panel_says() -> None:
    depths = {solid.part: (bounds(solid).zmin, bounds(solid).zmax) for solid in panel_solids(PANELS["wall"])}
    assert depths["1W01.outer0"] == pytest.approx((WIDE, WIDE + OUTER), abs=1e-5)
    assert depths["1W01.s00"] == pytest.approx((FRAMING.z0, FRAMING.z1), abs=1e-5)


def test_equal_parts_share_one_shape_across_panels() -> None:
    shop = Prototypes()
    first = panel_solids(wall_panel("1W01"), shop)
    made = len(shop)
    second = panel_solids(wall_panel("1W02"), shop)
    assert len(shop) == made < len(first)
    assert all(a.shape is b.shape for a, b in zip(first, second, strict=True))


def test_house_solids_are_panel_solids_in_the_house() -> None:
    house = small_house(2)
    placed = {solid.name: bounds(solid) for solid in house_solids(house)}
    panel = house.panels[1]
    alone = {solid.name: solid for solid in panel_solids(panel)}
    corner = panel.frame.to_parent([(0.0, 0.0, 0.0)])[0]
    inside, outside = bounds(alone["1W02-01"]), placed["1W02-01"]
    assert (outside.xmin - inside.xmin, outside.ymax, outside.zmin) == pytest.approx(
        (corner[0], corner[1], corner[2] + inside.ymin), abs=1e-5
    )
    assert len(placed) == sum(len({solid.part for solid in panel_solids(panel)}) for panel in house.panels)


@given(frames(), frames())
@settings(max_examples=50, deadline=None)
def test_no_frame_mirrors_a_solid(outer: Frame, inner: Frame) -> None:
    (solid,) = panel_solids(lone(stick(frame=inner)), within=outer)
    place = located(solid)
    assert not place.Location().Transformation().IsNegative()
    assert volume_of(place) == pytest.approx(volume_of(solid.shape), rel=1e-9)
    assert volume_of(place) > 0


def test_a_part_that_cannot_be_made_is_named() -> None:
    gone = stick(id="1W09.s3", length=50.0, width=40.0, bores=(Bore((25.0, 20.0, 0.0), 200.0),))
    with pytest.raises(GeometryError, match=r"part 1W09\.s3: .* leave nothing"):
        panel_solids(lone(gone))


def lone(*members: object) -> Panel:
    """A panel of these members only."""
    return Panel("1W09", PANELS["wall"].kind, "1", "A", 0.0, True, WORLD, 1.0, 1.0, (), (FRAMING,), members)
