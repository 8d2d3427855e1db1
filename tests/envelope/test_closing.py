"""The barriers of a box of four walls: everything is sealed but the tops, as the spec has nothing overhead."""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.api import design
from panelgen.catalog import Catalog
from panelgen.envelope.closing import Closing, closing
from panelgen.envelope.seal_lengths import seal_lengths
from panelgen.envelope.surfaces import barrier_layers
from panelgen.model import Barrier, House, JointKind
from panelgen.spec.loader import loads
from tests import specs

INCH = 25.4
BARRIERS = [Barrier.AIR, Barrier.WEATHER]


@pytest.fixture(scope="module")
def box() -> House:
    return design(loads(specs.clean()))


def closed(house: House, barrier: Barrier = Barrier.AIR) -> Closing:
    return closing(house, barrier, Catalog.default())


def gaps(house: House, barrier: Barrier = Barrier.AIR) -> dict[str, float]:
    """The open length (mm) by joint without a seal, or by the panel where there is no joint."""
    made = closed(house, barrier)
    panels = [panel for panel in house.panels if any(barrier_layers(panel, barrier))]
    lengths = (made.open.high - made.open.low) * made.edges.length[made.open.edge]
    found: dict[str, float] = {}
    for edge, joint, length in zip(made.open.edge, made.open.joint, lengths, strict=True):
        name = " | ".join(house.joints[joint].panels) if joint >= 0 else panels[made.edges.panel[edge]].label
        found[name] = found.get(name, 0.0) + float(length)
    return found


def unsealed(house: House, kind: JointKind) -> House:
    """The house with every joint of a kind left bare."""
    bare = (replace(one, air="", weather="") if one.kind is kind else one for one in house.joints)
    return replace(house, joints=tuple(bare))


@pytest.mark.parametrize("barrier", BARRIERS)
def test_only_the_tops_are_open(box: House, barrier: Barrier) -> None:
    made = closed(box, barrier)
    heights = made.edges.local[made.open.edge][..., 1]
    assert len(heights) > 0
    assert heights == pytest.approx(box.panels[0].height)
    assert (made.open.joint == -1).all()


def test_the_open_tops_are_as_long_as_the_room_around(box: House) -> None:
    """20 ft by 16 ft to the outer face of 5-1/2 in. framing, and 7/16 in. of sheathing inside that."""
    room = 2 * (240 + 192 - 4 * (5.5 + 7 / 16)) * INCH
    sheets = sum(1 for panel in box.panels for sheet in panel.sheets if sheet.layer == "inner sheathing")
    tape = 1 / 2 * INCH  # what the tape of a vertical joint bridges at its upper end, on both sheets
    assert room - 2 * tape * sheets - 100 < sum(gaps(box).values()) < room


@pytest.mark.parametrize("kind", [JointKind.FOUNDATION, JointKind.CORNER, JointKind.OPENING, JointKind.SEAM])
@pytest.mark.parametrize("barrier", BARRIERS)
def test_a_kind_of_joint_without_a_seal_is_open_and_named(box: House, kind: JointKind, barrier: Barrier) -> None:
    before, after = gaps(box, barrier), gaps(unsealed(box, kind), barrier)
    names = {" | ".join(joint.panels) for joint in box.joints if joint.kind is kind}
    new = set(after) - set(before)
    assert new
    assert new <= names
    taped = 130.0  # the tape of a seam bridges its upper end too
    assert {name: after[name] for name in before} == pytest.approx(before, abs=taped)


def test_the_foundation_seal_is_as_long_as_the_walls_inside(box: House) -> None:
    lengths = seal_lengths(closed(box), box.joints)
    ground = sum(lengths[n] for n, joint in enumerate(box.joints) if joint.kind is JointKind.FOUNDATION)
    assert ground == pytest.approx(sum(gaps(box).values()), rel=0.06)


def test_the_seal_of_a_unit_goes_around_its_rough_opening(box: House) -> None:
    lengths = seal_lengths(closed(box), box.joints)
    (number,) = (n for n, joint in enumerate(box.joints) if joint.kind is JointKind.OPENING)
    (hole,) = (hole for panel in box.panels for hole in panel.openings)
    assert lengths[number] == pytest.approx(2 * (hole.width + hole.height), abs=60.0)


def test_a_seam_is_as_long_as_the_joints_between_the_sheets(box: House) -> None:
    """Sheets stand upright in one row, so that every joint is as high as the wall, less what openings leave out."""
    lengths = seal_lengths(closed(box), box.joints)
    for number, joint in enumerate(box.joints):
        panel = box.panel(joint.panels[0])
        if joint.kind is JointKind.SEAM and not panel.openings:
            pieces = sum(sheet.layer == "inner sheathing" for sheet in panel.sheets)
            assert lengths[number] == pytest.approx((pieces - 1) * panel.height, abs=60.0 * pieces)
