"""The workbench without a page: what a message from the desk or the view does, and what the desk is told."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from panelgen.errors import GeometryError, SpecError
from panelgen.view.widget import PanelView
from panelgen.workbench import Session, workbench
from panelgen.workbench.bench import Workbench
from tests.project.tree import ROOT
from tests.workbench.examples import FAULTY, ONE_WALL, crossed

SPACING = "assemblies.exterior.layers[1].spacing"
MOST_STATE, MOST_SENT = 20_000, 50_000
Say = Callable[..., dict[str, Any]]


@pytest.fixture
def sent(monkeypatch: pytest.MonkeyPatch) -> list[list[bytes]]:
    """The buffers of each message that a view sends."""
    messages: list[list[bytes]] = []
    monkeypatch.setattr(PanelView, "send", lambda _self, _content, buffers=None: messages.append(buffers or []))
    return messages


@pytest.fixture
def bench(sent: list[list[bytes]]) -> Workbench:
    """A bench for one wall."""
    return workbench(ONE_WALL)


@pytest.fixture
def say(bench: Workbench) -> Say:
    """Sends a message as the desk does; gives what the desk is told."""

    def say(kind: str, **content: Any) -> dict[str, Any]:
        bench.desk._handle_custom_msg({"kind": kind, **content}, [])
        return dict(bench.desk.state)

    return say


def test_a_typed_value_is_a_step(bench: Workbench, say: Say, sent: list[list[bytes]]) -> None:
    assert len(sent) == 1
    state = say("set", id=SPACING, text="16")
    assert state["said"] == "Framing, spacing 16: 1 panel designed anew"
    assert state["undo"] == "Framing, spacing 16"
    sticks, before = next(row[1:] for row in state["figures"] if row[0] == "sticks")
    assert int(sticks) > int(before)
    assert len(sent) == 2
    assert 0 < sum(map(len, sent[1])) < MOST_SENT
    assert len(json.dumps(state)) < MOST_STATE
    assert say("set", id=SPACING, text="16 in")["undo"] == "Framing, spacing 16"  # it says so already


def test_a_refused_value_is_explained_and_forgotten(bench: Workbench, say: Say) -> None:
    house = bench.session.house
    state = say("set", id=SPACING, text="1")
    assert state["problem"] == "spacing: this is less than 100 mm (4 in). Check the unit, and give 100 mm or more."
    assert bench.session.house is house
    assert say("thing", id="wall")["problem"] == ""


def test_a_held_slider_is_one_step_and_keeps_its_ends(say: Say) -> None:
    spacing = next(one for one in say("thing", id="framing")["controls"] if one["id"] == SPACING)
    for place in (spacing["place"] - 2, spacing["place"] - 4):
        state = say("slide", id=SPACING, place=place, trying=True)
    state = say("slide", id=SPACING, place=spacing["place"] - 4, trying=False)
    now = next(one for one in state["controls"] if one["id"] == SPACING)
    assert (now["text"], now["steps"], now["place"]) == ("22 in", spacing["steps"], spacing["place"] - 4)
    assert say("undo")["undo"] == ""
    assert say("redo")["undo"] == "Framing, spacing 22 in"


def test_a_value_that_is_there_already_is_no_step(bench: Workbench, say: Say) -> None:
    spacing = next(one for one in say("thing", id="framing")["controls"] if one["id"] == SPACING)
    replies = bench.desk.state["replies"]
    state = say("slide", id=SPACING, place=spacing["place"], trying=False)
    assert (state["undo"], state["replies"]) == ("", replies + 1)
    assert bench.session.is_saved


def test_what_has_no_picture_is_taken_back(bench: Workbench, say: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    show = PanelView.show

    def fail_once(view: PanelView, *thing: Any) -> object:
        monkeypatch.setattr(PanelView, "show", show)
        raise GeometryError("this part has no shape")

    text = bench.session.text
    monkeypatch.setattr(PanelView, "show", fail_once)
    state = say("set", id=SPACING, text="16")
    assert state["problem"] == "this part has no shape"
    assert (bench.session.text, state["undo"]) == (text, "")


def test_what_is_picked_is_turned_to(bench: Workbench) -> None:
    strap = next(one for one in bench.session.house.panels[0].members if one.role == "strap")
    bench.view.picked = strap.id
    assert bench.picked == strap.id
    assert bench.desk.state["thing"] == "strapping"


def test_a_panel_is_opened_from_the_desk_and_the_view(sent: list[list[bytes]]) -> None:
    bench = workbench(FAULTY)
    assert bench.view.panel == ""
    bench.open("2W05")
    assert (bench.view.panel, bench.desk.state["panel"]) == ("2W05", "2W05")
    bench.view.panel = "1W02"
    assert bench.desk.state["panel"] == "1W02"
    bench.open("no such")
    assert bench.view.panel == "1W02"
    bench.view.panel = "trusses T1"
    assert bench.desk.state["panel"] == "1W02"


def test_findings_are_solved_and_accepted_from_the_view(sent: list[list[bytes]]) -> None:
    bench = workbench(Session(crossed(), "crossed.yaml"))
    (stop,) = [one for one in bench.session.findings if one.severity == "stop"]

    def from_view(kind: str, **content: str) -> dict[str, Any]:
        key = next(key for key in keys(bench) if bench.view.finding_of(key) == stop)
        bench.view._handle_custom_msg({"kind": kind, "finding": key, **content}, [])
        return dict(bench.desk.state)

    assert from_view("apply")["problem"].startswith("nothing to apply is known")
    state = from_view("waive", reason="", decided_by="A. Bee")
    assert state["problem"].startswith("a waiver needs reason")
    state = from_view("waive", reason="tested", decided_by="A. Bee")
    assert state["said"].startswith("run.run accepted on P1")
    assert bench.session.spec.waivers[0].decided_by == "A. Bee"


def keys(bench: Workbench) -> list[str]:
    """The keys by which the view knows its findings."""
    from panelgen.view.tables import finding_key

    return [finding_key(finding) for finding in bench.session.findings]


def test_saving_says_where_and_a_failure_why(bench: Workbench, say: Say, tmp_path: Path) -> None:
    say("set", id=SPACING, text="16")
    state = say("save", file=str(tmp_path / "new.yaml"))
    assert state["saved"]
    assert state["said"] == f"Saved as {tmp_path / 'new.yaml'}"
    assert (tmp_path / "new.yaml").read_text(encoding="utf-8") == bench.session.text
    assert "cannot write" in say("save", file=str(tmp_path / "no" / "such.yaml"))["problem"]


def test_charts_are_told_only_where_they_are_seen(say: Say) -> None:
    assert say("thing", id="wall")["charts"] == []
    assert [title for title, _ in say("tab", id="Charts")["charts"]] == [
        "Weight per panel, heaviest first",
        "Waste by stock, cut plainly",
        "Findings by kind",
    ]


def test_what_no_desk_says_changes_nothing(bench: Workbench, say: Say) -> None:
    state = dict(bench.desk.state)
    assert say("explode everything") == state
    asked = say("set", id="no such", text="1")
    assert asked.pop("replies") == state.pop("replies") + 1  # the page waits for an answer
    assert asked == state


def test_a_bad_spec_makes_no_bench(tmp_path: Path) -> None:
    (tmp_path / "bad.yaml").write_text("panelgen: 2", encoding="utf-8")
    with pytest.raises(SpecError):
        workbench(tmp_path / "bad.yaml")


def test_a_session_needs_no_widget_library() -> None:
    code = "import sys, panelgen.workbench; print({'anywidget', 'ipywidgets', 'traitlets', 'OCP'} & set(sys.modules))"
    result = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert result.stdout.strip() == "set()"
