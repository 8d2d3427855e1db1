"""The workbench in JupyterLab, as a designer uses it."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from panelgen.workbench import Session
from tests.workbench.browser.pages import Bench
from tests.workbench.examples import ONE_WALL, differing_lines

NASTY = "<img src=x onerror=alert(1)>"


def changed(before: np.ndarray, after: np.ndarray) -> int:
    """How many pixels differ visibly."""
    return int((np.abs(before - after).max(axis=2) > 24).sum())


def test_a_tour_of_the_bench(tour: Bench, folder: Path) -> None:
    desk, page = tour.desk, tour.page

    # A typed value.
    assert tour.figure("sticks")[0] == "73"
    page.get_by_role("button", name="Peel").click()
    before = tour.pixels()
    spacing = desk.get_by_label("spacing", exact=True).first
    spacing.fill("16 in")
    spacing.press("Enter")
    tour.wait_for_words("Framing, spacing 16 in: 1 panel designed anew")
    assert tour.figure("sticks") == ("83", "73")
    assert changed(before, tour.pixels()) > 300
    assert tour.ask("print(bench.session.spec.assemblies['exterior'].framing.spacing)") == "406.4"

    # A value that will not do.
    spacing.fill("2")
    spacing.press("Enter")
    assert "less than 100 mm" in desk.get_by_role("alert").inner_text(timeout=10_000)
    assert tour.figure("sticks")[0] == "83"

    # A slider that is dragged.
    slider = desk.get_by_role("slider", name="spacing")
    box = slider.bounding_box()
    assert box is not None
    middle = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + box["width"] * 0.12, middle)
    page.mouse.down()
    for share in (0.3, 0.5, 0.7, 0.9):
        page.mouse.move(box["x"] + box["width"] * share, middle)
    page.mouse.up()
    page.wait_for_function("() => parseFloat(document.querySelector('.pw-slider').getAttribute('aria-valuetext')) > 40")
    text = tour.ask("print(bench.session.spec.assemblies['exterior'].framing.spacing)")
    assert float(text) > 900
    assert slider.get_attribute("aria-valuetext") == spacing.input_value()

    # Undo goes back to before the drag, not into it.
    desk.get_by_role("button", name="Undo").click()
    tour.wait_for_words("undone: Framing, spacing")
    assert spacing.input_value() == "16 in"

    # Pick a stud: the desk turns to it, and Python has its id.
    desk.get_by_label("what to turn").select_option("wall")
    page.get_by_role("button", name="Weather", exact=True).click()
    stud = tour.ask("print([m.id for m in bench.session.house.panels[0].members if m.role == 'stud'][2])")
    page.get_by_label("nails and screws", exact=True).uncheck()
    at = tour.view(
        f"""(() => {{
          const part = view.house.find({stud!r})[0];
          const panel = view.house.panels.get(part.panel);
          const all = panel.points(part.row, 'corners');
          const middle = all[0].clone().multiplyScalar(0);
          all.forEach((point) => middle.addScaledVector(point, 1 / all.length));
          middle.applyMatrix4(panel.root.matrixWorld);
          view.stage.draw();
          view.stage.camera.updateMatrixWorld();
          const box = view.stage.canvas.getBoundingClientRect();
          const [x, y] = view.stage.onScreen(middle);
          return [box.left + x, box.top + y];
        }})()"""
    )
    page.mouse.click(*at)
    page.wait_for_function("() => document.querySelector('.pw [id$=-thing]').value === 'framing'")
    assert tour.ask("print(bench.picked)") == stud

    # Peel and section.
    hidden = tour.ask("print(*bench.view.hidden_layers, sep='|')").split("|")
    assert "outer sheathing" in hidden
    before = tour.pixels()
    page.get_by_role("button", name="Up", exact=True).click()
    assert tour.state["section"]["axis"] == "height"
    assert changed(before, tour.pixels()) > 1000

    # Save: only the turned words differ.
    desk.get_by_label("file").fill("saved.yaml")
    desk.get_by_role("button", name="Save").click()
    tour.wait_for_words("Saved as saved.yaml")
    saved = (folder / "notebooks" / "saved.yaml").read_text(encoding="utf-8")
    ((old, new),) = differing_lines(ONE_WALL.read_text(encoding="utf-8"), saved)
    assert new == old.replace("spacing: 24", "spacing: 16 in")
    assert Session(saved).house.panels


def test_a_finding_is_flown_to_solved_and_accepted(clinic: Bench) -> None:
    desk, page = clinic.desk, clinic.page
    finding = page.get_by_role("button", name="run.run")

    # Fly to it.
    before = clinic.pixels()
    finding.click()
    assert {part.partition(".")[0] for part in clinic.state["involved"]} == {"P1", "C1"}
    assert changed(before, clinic.pixels()) > 5000

    # Look for ways out, with progress, then cancel; then to the end.
    desk.get_by_role("tab", name="Work").click()
    desk.get_by_role("button", name="Look for ways out").click()
    desk.get_by_role("progressbar").wait_for()
    desk.get_by_role("button", name="Cancel").click()
    clinic.wait_for_words("Looking for ways out: cancelled")
    assert clinic.ask("print(any(f.proposal for f in bench.session.findings), bench.busy or 'idle')") == "False idle"
    desk.get_by_role("button", name="Look for ways out").click()
    clinic.wait_for_words("1 with a way out")

    # Apply it, take it back.
    page.get_by_role("button", name="Apply").click()
    clinic.wait_for_words("run.run: move run")
    assert desk.locator(".pw-gone").count() == 1
    assert clinic.ask("print(sum(f.severity == 'stop' for f in bench.session.findings))") == "0"
    assert finding.count() == 0
    desk.get_by_role("button", name="Undo").click()
    clinic.wait_for_words("undone: run.run")

    # Accept it, with a reason that looks like markup and is text.
    finding.click()
    page.get_by_role("button", name="Waive").click()
    form = page.locator("form", has=page.get_by_role("textbox"))
    form.get_by_role("textbox").first.fill(NASTY)
    form.get_by_role("textbox").last.fill(f"{NASTY} A. Bee")
    form.get_by_role("button", name="Waive").click()
    clinic.wait_for_words("run.run accepted on P1")
    said = clinic.ask("print(bench.session.spec.waivers[0].reason, '|', bench.session.spec.waivers[0].decided_by)")
    assert said == f"{NASTY} | {NASTY} A. Bee"
    page.get_by_text(NASTY).first.wait_for()

    # Whatever a person types comes back as text.
    desk.get_by_role("tab", name="Turn").click()
    desk.get_by_label("spacing", exact=True).first.fill(NASTY)
    desk.get_by_label("spacing", exact=True).first.press("Enter")
    desk.get_by_role("alert").wait_for()
    desk.get_by_label("what to turn").select_option("backing K1")
    clinic.wait_for_words(f"For: {NASTY}.")
    assert page.locator(".pw img, .pg img").count() == 0


def test_models_are_written_and_charts_drawn(clinic: Bench, folder: Path) -> None:
    desk = clinic.desk
    desk.get_by_role("tab", name="Charts").click()
    chart = desk.get_by_role("img", name="Findings by kind")
    chart.wait_for()
    assert "run.run: 1" in (chart.get_attribute("aria-label") or "")
    desk.get_by_role("tab", name="Work").click()
    desk.get_by_label("folder").fill("models")
    desk.get_by_role("button", name="Write models").click()
    clinic.wait_for_words("files written into models")
    assert (folder / "notebooks" / "models" / "panels" / "1W01" / "1W01.step").is_file()


def test_the_sliders_of_the_view_keep_their_keys(clinic: Bench) -> None:
    """In command mode a notebook takes arrow keys for itself, and letters for what it does to cells."""
    page = clinic.page
    cells = "() => jupyterapp.shell.currentWidget.content.widgets.length"
    before = page.evaluate(cells)
    page.get_by_role("button", name="Along", exact=True).click()
    slider = page.get_by_role("slider", name="Section")
    slider.focus()
    at = float(slider.input_value())
    for key, sense in (("ArrowRight", 1), ("ArrowUp", 1), ("ArrowDown", -1), ("ArrowLeft", -1)):
        page.keyboard.press(key)
        now = float(slider.input_value())
        assert (now - at) * sense > 0
        at = now
        assert slider.evaluate("(node) => node === document.activeElement")
    clinic.canvas.focus()
    page.keyboard.press("b")
    assert page.evaluate(cells) == before


def test_the_desk_is_worked_by_keys_alone(clinic: Bench) -> None:
    desk, page = clinic.desk, clinic.page
    slider = desk.get_by_role("slider", name="spacing")
    slider.focus()
    page.keyboard.press("ArrowLeft")
    clinic.wait_for_words("Framing, spacing 23 1/2 in")
    assert slider.evaluate("(node) => node === document.activeElement")
    desk.get_by_role("tab", name="Turn").focus()
    page.keyboard.press("ArrowRight")
    desk.get_by_role("img", name="Weight per panel").wait_for()
    page.wait_for_function("() => document.activeElement.matches('.pw [role=tab][aria-selected=true]')")
    assert page.evaluate("() => document.activeElement.textContent") == "Charts"
