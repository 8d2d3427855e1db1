"""The controls of a panel: what they are, what they say, and that each value they offer can be set."""

from __future__ import annotations

import pytest

from panelgen.errors import SpecError
from panelgen.units import parse_length
from panelgen.workbench import Session
from panelgen.workbench.fields import Control, written_length
from panelgen.workbench.focus import thing_of, things
from panelgen.workbench.things import Thing
from tests.workbench.examples import FAULTY, ONE_WALL, SPACING


@pytest.fixture(scope="module")
def session() -> Session:
    """One wall."""
    return Session.open(ONE_WALL)


@pytest.fixture(scope="module")
def listed(session: Session) -> dict[str, Thing]:
    """The things of its panel by id."""
    return {thing.id: thing for thing in things(session.design, session.house.panels[0])}


def control(thing: Thing, label: str) -> Control:
    """The control with that label."""
    (found,) = [one for one in thing.controls if one.label == label]
    return found


def test_everything_that_shapes_the_panel_is_there(listed: dict[str, Thing]) -> None:
    assert list(listed) == [
        "wall", "outer sheathing", "framing", "inner sheathing", "strapping", "opening W1", "opening D1", "run P1",
        "box B1", "backing K1",
    ]  # fmt: skip
    wanted = {
        "wall": "level height",
        "framing": "spacing",
        "strapping": "spacing",
        "opening W1": "center",
        "opening D1": "width",
        "run P1": "height, point 1",
        "box B1": "height",
        "backing K1": "height",
    }
    for thing, label in wanted.items():
        assert control(listed[thing], label).kind == "length"


def test_a_length_is_in_the_unit_of_the_file(listed: dict[str, Thing]) -> None:
    spacing = control(listed["framing"], "spacing")
    assert spacing.text == "24 in"
    assert spacing.paths == (SPACING,)
    assert "assemblies.exterior.layers[1].spacing" in spacing.hint
    assert (spacing.low, spacing.high) == pytest.approx((304.8, 1219.2))
    assert spacing.at(spacing.place) == pytest.approx(609.6)
    assert spacing.step == pytest.approx(12.7)


def test_limits_of_the_schema_hold_for_sliders(listed: dict[str, Thing]) -> None:
    center = control(listed["opening W1"], "center")
    assert center.low > 0
    assert center.high == pytest.approx(14 * 304.8)
    assert control(listed["opening W1"], "sill").low == 0


def test_choices_are_products_and_names(listed: dict[str, Thing]) -> None:
    assert control(listed["framing"], "stock").choices[:3] == ("2x3", "2x4", "2x6")
    assert control(listed["opening W1"], "type").choices == ("casement-36x48", "door-36x80")
    assert {size.partition("-")[0] for size in control(listed["run P1"], "size").choices} == {"nm"}
    assert control(listed["inner sheathing"], "barrier").choices == ("none", "air", "weather")


def test_points_at_one_height_move_together() -> None:
    session = Session.open(FAULTY)
    panel = session.house.panels[0]
    run = next(thing for thing in things(session.design, panel) if thing.id == "run PW1")
    height = control(run, "height")
    assert len(height.paths) == 2
    session.edit_all(dict.fromkeys(height.paths, height.read("20 in")))
    assert {point[1] for point in session.spec.runs[7].path} == {508.0}
    session.undo()


def test_read_gives_what_the_file_holds(listed: dict[str, Thing]) -> None:
    framing = listed["framing"]
    assert control(framing, "spacing").read(" 16 ") == 16
    assert control(framing, "spacing").read("16 in") == "16 in"
    assert control(framing, "top plates").read("1") == 1
    assert control(framing, "stock").read("2x4") == "2x4"
    assert control(framing, "insulation").read("") is None
    assert control(listed["wall"], "bearing").read("true") is True


@pytest.mark.parametrize("unit", ["mm", "m", "in", "ft"])
def test_a_written_length_is_read_as_the_same(unit: str) -> None:
    for length in (12.7, 609.6, 2438.4):
        assert parse_length(written_length(length, unit), unit) == pytest.approx(length, abs=1e-3)


def test_the_middle_of_a_slider_is_taken_or_refused_in_words(session: Session, listed: dict[str, Thing]) -> None:
    refused = []
    sliders = [one for thing in listed.values() for one in thing.controls if one.kind == "length" and one.steps]
    for one in sliders:
        value = written_length(one.at(one.steps // 2), session.spec.unit)
        try:
            session.edit_all(dict.fromkeys(one.paths, value))
            session.undo()
        except SpecError as error:
            refused.append(error.problems[0].remedy)
    assert all(refused)
    assert len(refused) < len(sliders) / 3


def test_a_picked_part_turns_to_its_thing(session: Session, listed: dict[str, Thing]) -> None:
    panel = session.house.panels[0]
    parts = [*panel.members, *panel.sheets, *panel.openings, *panel.runs, *panel.boxes]
    assert {thing_of(panel, part.id) for part in parts} <= set(listed)
    assert thing_of(panel, panel.openings[0].id) == "opening W1"
    assert thing_of(panel, "P1") == "run P1"
    assert thing_of(panel, "nothing") == ""
