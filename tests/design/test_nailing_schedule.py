"""Counts and spacings of nails against the published schedules.

WAC 246-359-340, Table 340, was read in the public law. Of IRC Table R602.3(1), 2018/2021, the joints and
locations were seen on city code sheets; the counts are from memory, but for those of the WAC.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.design.brief import PanelBrief
from panelgen.geometry.frames import Floats
from panelgen.model import Role
from tests.design.builders import FOOT, INCH, assembly, brief, door, window
from tests.design.nailing import Nailed, depths, nailed

WAC, IRC = "wac-246-359", "irc-2021"
UPRIGHTS = {Role.STUD, Role.POST, Role.KING, Role.JACK}


def windowed(length: float = 12 * FOOT, **more: object) -> PanelBrief:
    """A wall with a window 900 mm wide, its header of two plies."""
    return brief(length, 8 * FOOT, window(1400.0, 2300.0, 900.0, 2050.0), **more)


def ids(made: Nailed, *roles: Role) -> set[str]:
    return {member.id for member in made.members if member.role in roles}


def per_stick(made: Nailed, joint: str) -> dict[str, int]:
    """How many nails of a joint end in each stick."""
    counts: dict[str, int] = {}
    for (_, into), heads in made.pairs(joint).items():
        counts[into] = counts.get(into, 0) + len(heads)
    return counts


def lines(heads: Floats, axis: int) -> list[Floats]:
    """Nails in lines: their places along panel `axis`, for each place across it."""
    across = np.round(np.delete(heads, axis, axis=1), 3)
    return [np.sort(heads[(across == row).all(axis=1), axis]) for row in np.unique(across, axis=0)]


@pytest.mark.parametrize("rules", [WAC, IRC])
@pytest.mark.parametrize("stock", ["2x4", "2x6"])
def test_plates_are_end_nailed_to_every_stud(rules: str, stock: str) -> None:
    """WAC: top plate to stud 2-16d end; stud to sole plate 2-16d end. IRC row 17: 2-16d common end."""
    made = nailed(windowed(walls=assembly(stock=stock)), rules=rules)
    full = ids(made, Role.STUD, Role.POST, Role.KING)
    assert per_stick(made, "bottom plate to stud") == dict.fromkeys(ids(made, *UPRIGHTS), 2)
    assert per_stick(made, "top plate to stud") == dict.fromkeys(full, 2)
    for joint, up in (("bottom plate to stud", 1.0), ("top plate to stud", -1.0)):
        (batch,) = made.of(joint)
        assert (batch.product, batch.direction, batch.on_site) == ("16d common", (0.0, up, 0.0), False)


def test_two_nails_in_a_stud_end_are_a_quarter_of_the_width_from_its_edges() -> None:
    (batch,) = nailed(brief(8 * FOOT)).of("bottom plate to stud")
    assert sorted({round(z, 6) for z in batch.points[:, 2]}) == pytest.approx([139.7 / 4, 139.7 * 3 / 4])


def test_a_stud_where_two_plates_meet_is_nailed_through_both() -> None:
    made = nailed(brief(24 * FOOT))
    halves = [pair for pair in made.pairs("bottom plate to stud") if pair[1] == "A/stud-8"]
    assert [plate for plate, _ in sorted(halves)] == ["A/bottom-plate@0", "A/bottom-plate@4877"]
    for pair in halves:
        heads = made.pairs("bottom plate to stud")[pair]
        assert abs(heads[:, 0] - 16 * FOOT) == pytest.approx(38.1 / 4, abs=0.5)


@pytest.mark.parametrize(("rules", "spacing"), [(WAC, 16), (IRC, 16), ("irc-2012", 24)])
def test_cap_plate_is_face_nailed_along_its_length(rules: str, spacing: float) -> None:
    """WAC: doubled top plates 16d at 16 in. IRC row 13: 16d common at 16 in.; 2009/2012, from memory, 10d at 24 in."""
    made = nailed(brief(16 * FOOT), rules=rules)
    (heads,) = made.pairs("cap plate to top plate").values()
    places = np.sort(heads[:, 0])
    assert np.diff(places).max() <= spacing * INCH + 1e-6
    assert len(places) == int(np.ceil((places[-1] - places[0]) / (spacing * INCH) - 1e-9)) + 1
    assert sorted({round(z, 3) for z in heads[:, 2]}) == pytest.approx([139.7 / 4, 139.7 * 3 / 4], abs=1e-3)


def test_cap_plate_splice_is_nailed_on_site_on_both_sides_of_the_joint() -> None:
    """WAC: doubled top plates, lap splice 8-16d; IRC row 14: 8-16d common each side of the joint."""
    left = nailed(brief(12 * FOOT, joined=(False, True)), rules=WAC)
    right = nailed(brief(12 * FOOT, wall_start=12 * FOOT, joined=(True, False)), rules=WAC)
    (splice,) = (member for member in left.members if member.loose)
    (here,) = left.of("cap plate splice")
    assert (len(here), here.on_site) == (8, True)
    assert {left.members[n].id for n in here.fastened} == {splice.id}
    assert here.points[:, 0].min() > splice.frame.origin[0]
    assert here.points[:, 0].max() < 12 * FOOT
    (there,) = right.of("cap plate splice from the left")
    assert (len(there), there.on_site) == (8, True)
    assert {right.members[n].role for n in there.into} == {Role.TOP_PLATE}
    assert there.points[:, 1] == pytest.approx(8 * FOOT)
    assert there.points[:, 0].max() + 12 * FOOT < splice.frame.origin[0] + splice.length


def test_studs_side_by_side_are_face_nailed() -> None:
    """WAC: double studs 16d at 24 in. face; IRC row 8: 16d common at 24 in."""
    made = nailed(windowed(), rules=WAC)
    pairs = made.pairs("king to jack")
    assert set(pairs) == {(f"A/w1/jack-{side}-1", f"A/w1/king-{side}-1") for side in ("left", "right")}
    for heads in pairs.values():
        places = np.sort(heads[:, 1])
        assert np.diff(places).max() <= 24 * INCH + 1e-6
        assert len(places) >= (places[-1] - places[0]) / (24 * INCH)


def test_plies_of_a_header_are_nailed_along_each_edge() -> None:
    """WAC: continuous header, two pieces, 16d at 16 in. along each edge; IRC row 10: 16d common at 16 in."""
    made = nailed(windowed(), rules=WAC)
    ((pair, heads),) = made.pairs("header plies").items()
    assert pair == ("A/w1/header-2", "A/w1/header-1")
    header = next(member for member in made.members if member.id == "A/w1/header-1")
    low, high = lines(heads, 0)
    assert len(low) == len(high)
    assert max(np.diff(low).max(), np.diff(high).max()) <= 16 * INCH + 1e-6
    heights = np.sort(np.unique(np.round(heads[:, 1], 3))) - header.frame.origin[1]
    assert heights[0] == pytest.approx(header.width - heights[1], abs=1e-2)
    assert heights[0] <= header.width / 4 + 1e-6


def test_ends_of_a_header_are_toed_to_the_kings_under_the_state_law() -> None:
    """WAC: continuous header to stud, toe 4-8d."""
    made = nailed(windowed(), rules=WAC)
    assert per_stick(made, "header to king") == {"A/w1/king-left-1": 4, "A/w1/king-right-1": 4}
    for batch in made.of("header to king"):
        assert batch.product == "8d common"
        assert np.degrees(np.arccos(abs(batch.direction[0]))) == pytest.approx(30.0)  # NDS toe nails, from memory
    from_outside = {fastened for fastened, _ in made.pairs("header to king")}
    assert from_outside == {"A/w1/header-1", "A/w1/header-2"}


def test_kings_are_end_nailed_to_the_header() -> None:
    """IRC row 12: adjacent full-height stud to the end of the header, 3-16d common; each ply takes the same number."""
    made = nailed(windowed(), rules=IRC)
    pairs = made.pairs("header to king")
    for side in ("left", "right"):
        counts = {into: len(heads) for (king, into), heads in pairs.items() if king == f"A/w1/king-{side}-1"}
        assert counts == {"A/w1/header-1": 2, "A/w1/header-2": 2}
        assert sum(counts.values()) >= 3


def test_sticks_around_an_opening_are_nailed_to_one_another() -> None:
    made = nailed(windowed(), rules=IRC)
    jacks = ids(made, Role.JACK)
    assert set(made.pairs("sill to jack")) == {(jack, "A/w1/sill") for jack in jacks}
    assert set(made.pairs("head plate to stud")) == {(jack, "A/w1/head") for jack in jacks}
    below = {m.id for m in made.members if m.role is Role.CRIPPLE and m.frame.origin[1] < 100.0}
    assert {into for plate, into in made.pairs("cripple to plate") if plate == "A/w1/sill"} == below
    packed = {stick for stick in ids(made, Role.CRIPPLE) if "/packing" in stick}
    above = ids(made, Role.CRIPPLE) - below - packed
    assert packed
    assert {plate for plate, into in made.pairs("cripple to plate") if into in packed} == {"A/top-plate@0"}
    assert {fastened for fastened, _ in made.pairs("cripple to header")} == above
    assert set(made.pairs("plate to header")) == {("A/top-plate@0", f"A/w1/header-{n}") for n in (1, 2)}


def test_blocks_in_a_row_are_end_nailed_from_the_free_side_and_toed_from_the_other() -> None:
    """IRC row 1: blocking, toe 3-8d common each end (seen on city code sheets)."""
    made = nailed(brief(8 * FOOT, 11 * FOOT), rules=IRC)
    blocks = sorted(ids(made, Role.BLOCKING))
    assert len(blocks) >= 3
    ends = made.pairs("blocking to stud")
    toes = made.pairs("blocking in line")
    for block in blocks:
        through = sum(into == block for _, into in ends)
        toed = [len(heads) for (fastened, _), heads in toes.items() if fastened == block]
        assert through + len(toed) == 2
        assert toed in ([], [3])
    assert sum(len(set(pair) & set(blocks)) for pair in toes) == len(blocks) - 1


def test_a_door_leaves_no_plate_and_its_jacks_stand_on_what_is_left() -> None:
    made = nailed(brief(12 * FOOT, 8 * FOOT, door(1400.0, 2300.0, 2050.0)))
    (batch,) = made.of("bottom plate to stud")
    assert not ((batch.points[:, 0] > 1400.0) & (batch.points[:, 0] < 2300.0)).any()
    assert per_stick(made, "bottom plate to stud").keys() == ids(made, *UPRIGHTS)


@given(st.floats(2 / 12, 12 / 12), st.sampled_from(["2x4", "2x6"]))
@settings(max_examples=15, deadline=None)
def test_bevelled_studs_are_nailed_along_their_axis_and_sloping_plates_square_to_theirs(
    slope: float, stock: str
) -> None:
    length = 10 * FOOT
    panel = brief(length, [(0.0, 1500.0), (length, 1500.0 + slope * length)], walls=assembly(stock=stock))
    made = nailed(panel, rules=WAC)
    (ends,) = made.of("top plate to stud")
    assert ends.direction == (0.0, -1.0, 0.0)
    assert per_stick(made, "top plate to stud") == dict.fromkeys(ids(made, *UPRIGHTS), 2)
    (caps,) = made.of("cap plate to top plate")
    along = np.array((1.0, slope, 0.0)) / np.hypot(1.0, slope)
    square = np.array((slope, -1.0, 0.0)) / np.hypot(1.0, slope)
    lean = np.arccos(np.array(caps.direction) @ square)
    assert np.array(caps.direction) == pytest.approx(np.cos(lean) * square + np.sin(lean) * along)
    # two plates are 3 in. and a 16d nail 3-1/2 in. long: it leans just enough to stay in the wood
    assert 3 * INCH - caps.length * np.cos(lean) == pytest.approx(3.0, abs=1e-6)
    assert np.diff(np.sort(caps.points @ along)).max() <= 16 * INCH + 1e-6


def test_a_block_beside_the_low_side_of_a_bevelled_stud_is_nailed_through_wood() -> None:
    top = [(0.0, 3709.0), (1220.0, 2489.0)]
    panel = brief(1220.0, top, walls=assembly(spacing=12 * INCH, stock="2x4"), wall_start=1581.0)
    made = nailed(panel)
    members = {member.id: member for member in made.members}
    pairs = made.pairs("blocking to stud")
    assert pairs
    for (stud, _), heads in pairs.items():
        assert depths(members[stud], heads) == pytest.approx(0.0, abs=1e-6)
