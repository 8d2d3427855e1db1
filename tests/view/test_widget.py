"""The widget without a page: what it sends, and what it answers."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from typing import Any

import pytest

from panelgen.errors import GeometryError
from panelgen.model import Finding, Severity
from panelgen.view import changes, house_payload, panel_payload, view
from panelgen.view.page import bundle
from panelgen.view.tables import finding_key
from panelgen.view.widget import PanelView
from tests.factories import board, small_house, wall_panel
from tests.project.tree import ROOT
from tests.view.reading import Reader

MOST_LOADER = 2_000


@pytest.fixture
def sent(monkeypatch: pytest.MonkeyPatch) -> list[tuple[dict[str, Any], list[bytes]]]:
    """What widgets send to their pages."""
    messages: list[tuple[dict[str, Any], list[bytes]]] = []
    monkeypatch.setattr(PanelView, "send", lambda _self, content, buffers=None: messages.append((content, buffers)))
    return messages


def test_shows_a_house_then_only_what_changes(sent: list[tuple[dict[str, Any], list[bytes]]]) -> None:
    house = small_house(2)
    widget = view(house)
    smaller = replace(house, panels=house.panels[:1])
    message = widget.show(smaller)
    assert [content["kind"] for content, _ in sent] == ["payload", "payload"]
    assert sent[0][1] == changes(None, house_payload(house)).buffers
    assert message.head["order"] == [house.panels[0].label]
    assert (sent[1][0]["head"], sent[1][1]) == (message.head, [])


def test_a_page_that_comes_later_gets_the_whole(sent: list[tuple[dict[str, Any], list[bytes]]]) -> None:
    panel = wall_panel()
    widget = view(panel, height=400, theme="dark")
    sent.clear()
    widget._handle_custom_msg({"kind": "bundle"}, [])
    widget._handle_custom_msg({"kind": "ready"}, [])
    (first, code), (second, buffers) = sent
    assert (first, code) == ({"kind": "bundle"}, [bundle().encode()])
    reader = Reader()
    reader.take(replace(changes(None, panel_payload(panel)), head=second["head"], buffers=buffers))
    assert reader.holds(panel_payload(panel))
    assert (widget.height, widget.theme) == (400, "dark")


def test_python_gets_the_finding_that_a_page_names(sent: list[tuple[dict[str, Any], list[bytes]]]) -> None:
    panel = wall_panel()
    finding = Finding("panel.mass", Severity.WARN, "too heavy", panel.label)
    widget = view(panel, [finding])
    heard: list[Finding | None] = []
    widget.on_msg(lambda _widget, content, _buffers: heard.append(widget.finding_of(content["finding"])))
    widget._handle_custom_msg({"kind": "apply", "finding": finding_key(finding)}, [])
    widget._handle_custom_msg({"kind": "apply", "finding": "another"}, [])
    assert heard == [finding, None]


def test_a_part_without_shape_leaves_the_picture(sent: list[tuple[dict[str, Any], list[bytes]]]) -> None:
    widget = view(wall_panel())
    hole = ((-1e4, -1e4), (-1e4, 1e4), (1e4, 1e4), (1e4, -1e4))
    broken = replace(wall_panel(), sheets=(board(cutouts=(hole,), layer="outer"),), fasteners=())
    with pytest.raises(GeometryError):
        widget.show(broken)
    assert len(sent) == 1


def test_the_state_of_a_widget_holds_a_loader_and_not_the_bundle() -> None:
    state = PanelView().get_state()
    assert len(state["_esm"]) < MOST_LOADER
    assert "import(" in state["_esm"]
    assert (state["picked"], state["panel"], state["finding"]) == ("", "", "")
    assert (state["hidden_layers"], state["acts"]) == (["insulation"], False)


def test_a_page_needs_no_widget_library() -> None:
    code = "import sys, panelgen.view; print({'anywidget', 'ipywidgets', 'traitlets', 'OCP'} & set(sys.modules))"
    result = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert result.stdout.strip() == "set()"
