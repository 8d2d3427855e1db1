"""Point loads from above land on studs, down to the lowest walls. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace

from panelgen.design.house import design
from panelgen.geometry.frames import Frame
from panelgen.model import House, Member, Panel, PanelKind, Role
from panelgen.spec import HouseSpec
from panelgen.spec.openings import OpeningSpec
from tests.checks.builders import member, stud
from tests.checks.structure.houses import FOOT, INCH, changed, codes, found, storeys, without
from tests.design.floors.houses import STAIR, bearing, floored
from tests.design.houses import house_data

UP = {"type": "window-60x48", "center": "12 ft"}


def stacked(below: str = "12 ft", levels: int = 2) -> House:
    return storeys(levels, [[UP | {"center": below}], *[[UP]] * (levels - 1)])


def unposted(house: House) -> House:
    """The house without the posts that the design stands under loads."""
    posts = [one.id for panel in house.panels for one in panel.members if one.why.rule == "post.load"]
    assert posts
    return without(house, *posts)


def test_windows_above_one_another() -> None:
    assert codes(stacked()) == []


def test_a_window_above_a_window_beside_it() -> None:
    house = stacked("9 ft")
    assert codes(house) == ["load.header"]
    on_header, beside = found(unposted(house))
    assert (on_header.code, beside.code) == ("load.header", "load.path")
    assert "O21" in on_header.words
    assert "O11" in on_header.words
    assert on_header.parts == ("N2/O21/jack-left-1",)
    assert beside.parts == ("N2/O21/jack-right-1",)


def test_a_window_above_the_middle_between_studs() -> None:
    """Its jacks stand 6 in. and more from the studs at 24 in.; the design stands posts beneath them."""
    house = storeys(2, [[], [UP]])
    assert codes(house) == []
    findings = found(unposted(house))
    assert [one.code for one in findings] == ["load.path", "load.path"]
    assert {one.panel for one in findings} == {"2W01"}
    assert all("1W01" in one.words and one.source.startswith("common practice") for one in findings)


def test_a_stud_within_5_in_carries_it() -> None:
    """A window 24 in. wide between its jacks, each within 5 in. of a stud of the layout below."""
    units = {"narrow": {"kind": "window", "width": "27 in", "height": "36 in"}}
    house = storeys(2, [[], [{"type": "narrow", "center": "11 ft"}]], unit_types=units)
    assert codes(house) == []
    assert codes(without(house, "N1/stud-5")) == ["stud.spacing", "load.path"]


def test_loads_go_on_to_the_lowest_level() -> None:
    """Three levels: the middle window stands well, and both come down on a window of the lowest that does not."""
    house = stacked("9 ft", 3)
    assert sorted(one.panel[0] for one in found(house) if one.code == "load.header") == ["2", "3"]


def test_no_wall_beneath() -> None:
    house = storeys(2, [[], [UP]])

    def aside(panel: Panel) -> Panel:
        if panel.level != "1":
            return panel
        x, y, z = panel.frame.origin
        return replace(panel, frame=replace(panel.frame, origin=(x, y + 3000.0, z)))

    assert set(codes(replace(house, panels=tuple(map(aside, house.panels))))) == {"load.wall", "load.gap"}


def floor_between(house: House, *blocks: float) -> House:
    """The house with a floor panel between the levels: a rim along each long edge, blocks at house x."""
    low = 2466.975
    high = 2786.0
    frame = Frame((0.0, 0.0, low), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    members = [
        member(f"block@{x:g}", Role.BLOCKING, Frame((x, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
               (high - low, 139.7, 38.1))
        for x in blocks
    ]  # fmt: skip
    layers = (replace(house.panels[0].framing, z0=0.0, z1=high - low),)
    panel = Panel(
        "2F01", PanelKind.FLOOR, "1", "", 0.0, False, frame, 7315.2, 2000.0,
        ((0.0, 0.0), (7315.2, 0.0), (7315.2, 2000.0), (0.0, 2000.0)), layers, tuple(members),
    )  # fmt: skip
    return replace(house, panels=(*house.panels, panel))


def test_squash_blocks_in_the_floor() -> None:
    house = stacked()
    assert codes(floor_between(house)) == ["load.block", "load.block"]
    jacks = [m for panel in house.panels if panel.level == "2" for m in panel.members if m.role is Role.JACK]
    panels = {m.id: panel for panel in house.panels for m in panel.members}
    places = [panels[m.id].frame.point(*m.frame.origin)[0] for m in jacks]
    blocked = floor_between(house, *places)
    assert codes(blocked) == []

    def webbed(block: Member) -> Member:
        return replace(block, engineered=True, grade="i-joist") if block.id.startswith("block@") else block

    assert codes(changed(blocked, webbed)) == ["load.block", "load.block"]


def test_trimmers_of_a_stair_come_down_on_studs() -> None:
    """Two trimmers on each side of a stair, from the wall to a bearing partition: four ends on two studs each."""
    size = {"stock": "2x10", "depth": 9.25 * INCH, "spacing": 16 * INCH, "openings": [STAIR]}
    house = design(floored(**size, lower=[bearing("P1", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT))]))
    assert "load.path" not in codes(house)
    lost = [one for one in found(unposted(house)) if one.code == "load.path"]
    assert {one.panel for one in lost} == {"2F06"}
    assert {len(one.parts) for one in lost} == {2}
    assert all("trimmer" in part for one in lost for part in one.parts)


def test_trimmers_on_a_beam() -> None:
    """The beam and its posts are for an engineer, who must know of it."""
    beam = {"id": "G1", "start": [0.0, 12 * FOOT], "end": [40 * FOOT, 12 * FOOT], "width": 139.7}
    size = {"stock": "2x10", "depth": 9.25 * INCH, "spacing": 16 * INCH, "openings": [STAIR]}
    house = design(floored(**size, floor={"beams": [beam]}))
    on_beam = [one for one in found(house) if one.code == "load.beam"]
    assert len(on_beam) == 2
    assert all("G1" in one.words and "trimmer" in one.words for one in on_beam)


def test_a_door_in_a_wall_on_a_beam_of_the_lowest_floor() -> None:
    """Both ends of its header come down on the beam; those of the walls around the house on their foundation."""
    line = bearing("P1", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT))
    beam = {"id": "G1", "start": [0.0, 12 * FOOT], "end": [40 * FOOT, 12 * FOOT], "width": 139.7}
    rim = {"id": "G2", "start": [0.0, 69.85], "end": [40 * FOOT, 69.85], "width": 139.7}
    doors = tuple(
        OpeningSpec.model_validate({"id": name, "wall": wall, "type": "door-36x80", "center": 3048.0})
        for name, wall in (("D1", "P1"), ("D2", "1A"))
    )
    floor = {"id": "F1", "level": "1", "beams": [beam, rim]}
    spec = floored(stock="2x10", depth=9.25 * INCH, spacing=16 * INCH, floor=floor, lower=[line])
    house = design(spec.model_copy(update={"openings": doors}))
    on_beam = [one for one in found(house) if one.code == "load.beam"]
    assert len(on_beam) == 2
    assert all("G1" in one.words and "D1" in one.words for one in on_beam)


def trussed(plies: int, first: float = 609.6) -> House:
    """Trusses on two walls 20 ft apart, on their studs."""
    walls = [
        {"wall": name, "assembly": "exterior", "start": start, "end": end, "exterior": True, "along": "outer face"}
        for name, start, end in (("S", [0, 0], ["24 ft", 0]), ("N", ["24 ft", "20 ft"], [0, "20 ft"]))
    ]
    levels = [{"id": "1", "elevation": 0, "height": "97-1/8 in", "walls": walls}]
    row = {"id": "T", "level": "1", "bearings": ["S", "N"], "first": first, "count": 1, "span": "20 ft", "rise": 127}
    row |= {"heel": 150, "mass": "300 lb", "bracing_rows": 1, "plies": plies}
    return design(HouseSpec.model_validate(house_data(levels, trusses=[row]), context={"unit": "mm"}))


def test_girder_trusses_stand_on_as_many_studs_as_they_have_plies() -> None:
    """Single trusses are what the tables call a roof; a girder of two finds one stud of the layout at each end."""
    assert codes(trussed(1)) == []
    house = trussed(2)
    lost = found(house)
    assert [(one.code, one.value, one.parts) for one in lost] == [("load.path", 2.0, ("T-01",))] * 2

    def posted(panel: Panel) -> Panel:
        x = 609.6 if panel.wall == "S" else panel.length - 609.6
        return replace(panel, members=(*panel.members, replace(stud(x + 19.05), id=f"{panel.label}/post")))

    assert codes(replace(house, panels=tuple(map(posted, house.panels)))) == []
    assert {truss.thickness for truss in house.trusses} == {2 * 38.1}
