"""A change sends what changed and no more, and a page that follows the messages holds what it should."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen import api
from panelgen.model import Finding, House, Severity
from panelgen.spec.loader import loads
from panelgen.view import changes, house_payload, panel_payload
from tests.factories import small_house
from tests.project.tree import ROOT
from tests.view.reading import Reader

MOST_BYTES = 50_000


def without_last_sheet(house: House, label: str) -> House:
    """The house with one sheet less in one panel."""
    return replace(
        house,
        panels=tuple(
            replace(panel, sheets=panel.sheets[:-1], fasteners=()) if panel.label == label else panel
            for panel in house.panels
        ),
    )


def test_nothing_changed_sends_nothing() -> None:
    payload = house_payload(small_house())
    message = changes(payload, house_payload(small_house()))
    assert message.buffers == []
    assert message.head == {"format": 1, "house": None, "order": None, "panels": [], "keys": []}


def test_a_changed_panel_sends_its_changed_blocks_alone() -> None:
    house = small_house()
    label = house.panels[1].label
    old, new = house_payload(house), house_payload(without_last_sheet(house, label))
    message = changes(old, new)
    assert [head["label"] for head in message.head["panels"]] == [label]
    kinds = {block["key"]: (block["kind"], block["layer"]) for block in new.panels[label]["blocks"]}
    framing = {key for key, kind in kinds.items() if kind[1] == "framing"}
    assert framing
    assert framing.isdisjoint(message.head["keys"])
    assert 0 < message.size < old.size / 2


def test_a_new_finding_sends_no_shape() -> None:
    house = small_house()
    finding = Finding("panel.mass", Severity.WARN, "too heavy", house.panels[0].label)
    message = changes(house_payload(house), house_payload(house, [finding]))
    assert len(message.buffers) == 2
    assert message.size < 600


def test_one_edit_of_a_designed_panel_is_small() -> None:
    text = (ROOT / "examples" / "one-wall.yaml").read_text(encoding="utf-8")
    assert "spacing: 24," in text
    old, new = (
        panel_payload(api.design(loads(text.replace("spacing: 24,", f"spacing: {spacing},"), "one-wall")).panels[0])
        for spacing in (24, 16)
    )
    assert 0 < changes(old, new).size <= MOST_BYTES


@given(st.lists(st.tuples(st.integers(1, 4), st.booleans(), st.integers(0, 2)), min_size=1, max_size=5))
@settings(max_examples=15, deadline=None)
def test_a_page_that_follows_holds_the_last_payload(steps: list[tuple[int, bool, int]]) -> None:
    reader = Reader()
    old = None
    for count, is_cut, found in steps:
        house = small_house(count)
        label = house.panels[-1].label
        findings = [Finding("panel.mass", Severity.WARN, f"word {n}", label) for n in range(found)]
        new = house_payload(without_last_sheet(house, label) if is_cut else house, findings)
        reader.take(changes(old, new))
        assert reader.holds(new)
        old = new
