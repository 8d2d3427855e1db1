"""Sections, bores and measures in the standalone page."""

from __future__ import annotations

from pathlib import Path

import pytest

from panelgen.model.palette import OKABE_ITO
from panelgen.model.volumes import member_volume
from panelgen.view import to_html
from tests.factories import wall_panel
from tests.view.browser.conftest import Open, Shown
from tests.view.browser.scene import changed, house, of_colour


def test_section_is_closed_by_caps_in_the_colour_of_the_layer(panel: Shown) -> None:
    orange = OKABE_ITO["orange"]
    panel.button("Top").click()
    assert of_colour(panel.pixels(), orange) < 50
    panel.button("Up").click()
    assert panel.state["section"]["axis"] == "height"
    half = panel.pixels()
    assert of_colour(half, orange) > 200
    panel.page.get_by_label("Section", exact=True).fill("0.2")
    assert panel.state["section"]["share"] == 0.2
    assert changed(half, panel.pixels()) > 50
    panel.button("Off").click()
    assert of_colour(panel.pixels(), orange) < 50


def test_a_section_opens_toward_the_camera(panel: Shown) -> None:
    for side, is_flipped in (("Weather", False), ("Room", True)):
        panel.button(side).click()
        panel.button("Through").click()
        assert panel.state["section"]["flipped"] == is_flipped
        assert of_colour(panel.pixels(), OKABE_ITO["orange"]) > 1000
    panel.button("Flip").click()
    assert not panel.state["section"]["flipped"]


def test_bored_sticks_are_drilled_when_their_panel_opens(open_page: Open, tmp_path: Path) -> None:
    panel = wall_panel(runs=2)
    shown = open_page(to_html(panel, tmp_path / "panel.html"))
    drilled = shown.run(
        """(() => {
          const item = [...house.openPanel.items.values()].find(({ kind }) => kind === 'bored');
          const { points, faces, parts } = item.near;
          const at = (corner) => [0, 1, 2].map((axis) => points[3 * corner + axis]);
          return parts.map(({ row, face, faces: count }) => {
            const open = new Set();
            let volume = 0;
            for (let k = 3 * face; k < 3 * (face + count); k += 3) {
              const [a, b, c] = [at(faces[k]), at(faces[k + 1]), at(faces[k + 2])];
              volume += (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2])
                + a[2] * (b[0] * c[1] - b[1] * c[0])) / 6;
              for (let n = 0; n < 3; n++) {
                const [from, to] = [faces[k + n], faces[k + ((n + 1) % 3)]];
                if (!open.delete(`${to} ${from}`)) open.add(`${from} ${to}`);
              }
            }
            return [house.openPanel.parts[row].id, volume, open.size];
          });
        })()"""
    )
    volumes = {member.id: member_volume(member) for member in panel.members}
    assert len(drilled) > 2
    for name, volume, unmatched in drilled:
        assert volume == pytest.approx(volumes[name], rel=2e-3)
        assert unmatched == 0


def test_measuring_snaps_to_corners(panel: Shown) -> None:
    sheet = house().panels[1].sheets[0]
    height = max(y for _, y in sheet.outline) - min(y for _, y in sheet.outline)
    panel.button("Weather").click()
    panel.button("Measure").click()
    for share in (0.004, 0.996):
        panel.page.mouse.click(*panel.point_of(sheet.id, 0.02, share, 1.0))
    state = panel.state
    assert state["measured"]["distance"] == pytest.approx(height, abs=0.05)
    assert state["measured"]["up"] == pytest.approx(height, abs=0.05)
    assert "mm" in panel.page.locator(".pg-status").inner_text()
