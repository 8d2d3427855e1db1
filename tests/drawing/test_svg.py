"""SVG is well-formed, says in words what it shows, refers to nothing outside and holds no markup of a user."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from panelgen.drawing.elevation import draw_elevation
from panelgen.drawing.looks import DRAWN_AS, LOOKS, Look
from panelgen.drawing.marks import Spot
from panelgen.drawing.svg import looks_css, swatch, write_svg
from tests.factories import wall_panel

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = '"><img src=x onerror=alert(1)>&amp;'
PANEL = wall_panel()


def hostile() -> object:
    run = replace(PANEL.runs[0], run=HOSTILE)
    return replace(PANEL, label=f"<b>{HOSTILE}", runs=(run,))


def test_is_well_formed_and_named_in_words() -> None:
    root = ET.fromstring(write_svg(draw_elevation(PANEL, ["r0"], [Spot(1, 500.0, 500.0)]), "pic"))
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert [title.get("id"), desc.get("id")] == root.get("aria-labelledby").split()
    assert title.text == "Panel 1W01, seen from the weather side"
    assert "Parts involved: r0" in desc.text


def test_words_of_a_user_stay_words() -> None:
    text = write_svg(draw_elevation(hostile(), [HOSTILE], [Spot(1, 500.0, 300.0)]), "pic")
    root = ET.fromstring(text)
    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= {
        "svg", "title", "desc", "style", "path", "circle", "text",
    }  # fmt: skip
    assert "<img" not in text
    assert root.find(f"{SVG}title").text.startswith(f"Panel <b>{HOSTILE}")


def test_refers_to_nothing_outside() -> None:
    text = write_svg(draw_elevation(PANEL), "pic").replace('xmlns="http://www.w3.org/2000/svg"', "")
    assert re.findall(r"https?:|href|src=|url\(|@import", text) == []


def test_inline_needs_the_style_of_its_page() -> None:
    text = write_svg(draw_elevation(PANEL), "pic", is_inline=True)
    assert "<style" not in text
    assert "xmlns" not in text


def test_every_look_has_a_rule_and_every_class_a_look() -> None:
    css = looks_css()
    text = write_svg(draw_elevation(PANEL, ["r0", "1W01.outer0"], [Spot(1, 500.0, 500.0)]), "pic")
    assert all(f".picture .{look}{{" in css for look in Look)
    assert set(re.findall(r'class="(\w+)"', text)) - {"picture"} <= {str(look) for look in Look}


def test_same_drawing_gives_the_same_text() -> None:
    one, other = (write_svg(draw_elevation(wall_panel(), ["r0"]), "pic") for _ in range(2))
    assert one == other


@pytest.mark.parametrize("look", DRAWN_AS)
def test_key_has_a_sample_of_each_look(look: Look) -> None:
    root = ET.fromstring(swatch(look))
    assert root.get("aria-hidden") == "true"
    assert [child.get("class") for child in root] == [look]


def test_layers_that_are_only_outlines_differ_in_their_dashes() -> None:
    dashes = [LOOKS[look].dash for look in (Look.OUTER, Look.INNER, Look.STRAP)]
    assert len(set(dashes)) == len(dashes)
    assert () not in dashes
