"""Roofs, floors, ceilings and trusses on the desk: what there is to turn, and that a step redoes what it touches."""

from __future__ import annotations

from typing import Any

import pytest

from panelgen.checks import check_house
from panelgen.design import design
from panelgen.view.widget import PanelView
from panelgen.workbench import Session, workbench
from panelgen.workbench.bench import Workbench
from panelgen.workbench.fields import Control
from panelgen.workbench.focus import things
from panelgen.workbench.things import Thing

HOUSE = """
panelgen: 1
house: Small
unit: in
design: {ground_snow: 30 psf, building_width: 16 ft}
assemblies:
  wall:
    layers:
      - {layer: sheathing, product: osb-7/16, barrier: weather}
      - {layer: framing, stock: 2x6, spacing: 24}
      - {layer: sheathing, product: osb-7/16, barrier: air}
  floor:
    layers:
      - {layer: sheathing, product: osb-23/32}
      - {layer: framing, stock: 2x12, spacing: 16, insulation: null}
  ceiling:
    layers:
      - {layer: framing, stock: 2x10, spacing: 16}
      - {layer: sheathing, product: osb-7/16, barrier: air}
  roof:
    layers:
      - {layer: sheathing, product: osb-5/8, barrier: weather}
      - {layer: framing, stock: 2x10, spacing: 16, insulation: null}
levels:
  - id: "1"
    elevation: 0
    height: 97
    outlines:
      - assembly: wall
        corners:
          - {wall: 1S, at: [0, 0]}
          - {wall: 1E, at: [240, 0]}
          - {wall: 1N, at: [240, 180]}
          - {wall: 1W, at: [0, 180]}
  - id: "2"
    height: 97
    outlines:
      - assembly: wall
        corners:
          - {wall: 2S, at: [0, 0]}
          - {wall: 2E, at: [240, 0]}
          - {wall: 2N, at: [240, 180]}
          - {wall: 2W, at: [0, 180]}
      - assembly: wall
        corners:
          - {wall: GS, at: [300, 0], bearing: false}
          - {wall: GE, at: [420, 0]}
          - {wall: GN, at: [420, 180]}
          - {wall: GW, at: [300, 180]}
floors:
  - {id: F2, level: "2", assembly: floor, joists: y, outline: [[0, 0], [240, 0], [240, 180], [0, 180]],
     openings: [{id: ST, at: [66, 60], size: [36, 90]}]}
ceilings:
  - {id: C2, level: "2", assembly: ceiling, joists: y, outline: [[0, 0], [240, 0], [240, 180], [0, 180]]}
roofs:
  - id: R
    level: "2"
    assembly: roof
    footprint: [{edge: 2S, at: [0, 0]}, {edge: 2E, at: [240, 0]}, {edge: 2N, at: [240, 180]}, {edge: 2W, at: [0, 180]}]
    rise: 6
    run: 12
    overhang: 16
    openings: [{id: SK, edge: 2S, at: [112, 50], size: [22, 30]}]
trusses:
  - {id: T, level: "2", bearings: [GW, GE], first: 24, count: 4, spacing: 24, span: 120,
     rise: 5, run: 12, heel: 5, mass: 60 lb}
seals:
  - {joint: hip, weather: weather tape}
"""

EDITS: list[tuple[tuple[str | int, ...], Any, int]] = [
    (("roofs", 0, "openings", 0, "at", 0), 128, 1),
    (("roofs", 0, "rise"), 7, 4),
    (("floors", 0, "openings", 0, "size", 1), 84, 1),
    (("ceilings", 0, "joists"), "x", 1),
    (("trusses", 0, "count"), 3, 0),
]
"""A place, a value, and how many panels at least it has to do with."""


@pytest.fixture(scope="module")
def session() -> Session:
    """A house of two storeys, with trusses beside it."""
    return Session(HOUSE)


def of(session: Session, letter: str) -> dict[str, Thing]:
    """The things of the first panel whose label has that letter, by id."""
    panel = next(panel for panel in session.house.panels if panel.label[1] == letter)
    return {thing.id: thing for thing in things(session.design, panel)}


def control(thing: Thing, label: str) -> Control:
    (found,) = [one for one in thing.controls if one.label == label]
    return found


def with_opening(session: Session, letter: str, opening: str) -> Thing:
    panel = next(
        one for one in session.house.panels if one.label[1] == letter and any(o.id == opening for o in one.openings)
    )
    return next(thing for thing in things(session.design, panel) if thing.id == f"opening {opening}")


def test_a_roof_has_its_slope_overhang_and_layers(session: Session) -> None:
    listed = of(session, "R")
    assert list(listed)[:3] == ["cover", "outer sheathing", "framing"]
    assert listed["cover"].title == "Roof R"
    assert {one.label for one in listed["cover"].controls} >= {"assembly", "rise", "run", "overhang", "ridge", "fascia"}
    assert control(listed["cover"], "rise").paths == (("roofs", 0, "rise"),)
    assert control(listed["cover"], "assembly").choices == ("wall", "floor", "ceiling", "roof")
    assert "top plates" not in {one.label for one in listed["framing"].controls}
    assert control(listed["framing"], "spacing").text == "16 in"


@pytest.mark.parametrize(("letter", "title"), [("F", "Floor F2"), ("C", "Ceiling C2")])
def test_a_deck_has_its_joists_and_stocks(session: Session, letter: str, title: str) -> None:
    cover = of(session, letter)["cover"]
    assert cover.title == title
    assert control(cover, "joists").choices == ("x", "y")
    assert "2x12" in control(cover, "rim").choices


def test_openings_have_a_place_and_a_size(session: Session) -> None:
    skylight, stair = with_opening(session, "R", "SK"), with_opening(session, "F", "ST")
    names = ["place along the edge", "place up the slope", "width", "length"]
    assert [control(skylight, name).text for name in names] == ["112 in", "50 in", "22 in", "30 in"]
    assert [control(stair, name).text for name in ("x", "y", "size along x", "size along y")] == [
        "66 in", "60 in", "36 in", "90 in",
    ]  # fmt: skip
    assert control(stair, "kind").choices == ("stair", "shaft", "hatch")


def test_a_seal_of_the_panels_joints_is_there(session: Session) -> None:
    seal = of(session, "R")["seal 1"]
    assert seal.title == "Seal of hip joints"
    assert control(seal, "weather").text == "weather tape"
    assert control(seal, "weather").choices[0] == "none"


@pytest.mark.parametrize(("path", "value", "least"), EDITS)
def test_after_an_edit_all_is_as_made_anew(
    session: Session, path: tuple[str | int, ...], value: object, least: int
) -> None:
    change = session.edit(path, value, quick=True)
    try:
        assert least <= len(change.redone) < len(session.house.panels)
        session.settle()
        house = design(session.spec, session.design.catalog)
        assert session.findings == check_house(house, session.design.catalog)
        assert [panel.label for panel in session.house.panels] == [panel.label for panel in house.panels]
        for mine, fresh in zip(session.house.panels, house.panels, strict=True):
            assert (mine.members, mine.sheets, mine.bays) == (fresh.members, fresh.sheets, fresh.bays)
        assert (session.house.trusses, session.house.joints) == (house.trusses, house.joints)
    finally:
        session.undo()


def test_a_run_that_moves_in_a_roof_is_bored_anew_there() -> None:
    run = "runs: [{id: P, system: power, size: nm-12/2, wall: R-2S, path: [[100, %s, framing], [140, %s, framing]]}]\n"
    session = Session(HOUSE + run % (20, 20))
    change = session.edit_all({("runs", 0, "path", n, 1): 24 for n in (0, 1)}, quick=True)
    bored = {panel.label for panel in session.house.panels if any(member.bores for member in panel.members)}
    assert bored
    assert bored <= change.redone
    assert len(change.redone) < len(session.house.panels)


def test_the_desk_turns_to_what_is_opened(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(PanelView, "send", lambda _self, _content, buffers=None: None)
    bench = workbench(Session(HOUSE))
    for label, title in (("2R01", "Roof R"), ("2F01", "Floor F2"), ("trusses T", "Trusses T")):
        bench.view.panel = label
        say(bench, "thing", id="cover")
        assert bench.desk.state["panel"] == label
        assert (bench.desk.state["thing"], bench.desk.state["things"][0][1]) == ("cover", title)
    assert {one["label"]: one["text"] for one in bench.desk.state["controls"]}["count"] == "4"
    say(bench, "set", id="trusses[0].count", text="3")
    assert len(bench.session.house.trusses) == 3
    assert bench.desk.state["undo"] == "Trusses T, count 3"
    say(bench, "set", id="trusses[0].mass", text="70 lb")
    assert bench.session.spec.trusses[0].mass == pytest.approx(70 * 0.45359237)
    say(bench, "undo")
    say(bench, "undo")
    assert len(bench.session.house.trusses) == 4


def say(bench: Workbench, kind: str, **content: Any) -> None:
    """Send a message as the desk does."""
    bench.desk._handle_custom_msg({"kind": kind, **content}, [])
