"""The workbench in a notebook: the desk and the view side by side, kept in step with one session."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import ipywidgets

from panelgen import api
from panelgen.errors import BadValueError, GeometryError, PanelgenError
from panelgen.model import Finding, truss_rows
from panelgen.units import format_length
from panelgen.view.themes import Theme
from panelgen.view.trusses import row_label
from panelgen.view.widget import PanelView
from panelgen.workbench import showing
from panelgen.workbench.covers import truss_row
from panelgen.workbench.desk import Desk
from panelgen.workbench.fields import Control, Sliders, written_length
from panelgen.workbench.focus import thing_of, things
from panelgen.workbench.jobs import Job
from panelgen.workbench.session import Session
from panelgen.workbench.things import Controls, Thing
from panelgen.workbench.waysout import Tick
from panelgen.workbench.work import Work

__all__ = ["Workbench"]

_DESK_WIDTH = 324
_NOTHING = Thing("", "nothing to turn", ())
_SETTLE = 0.6
"""s. How long after the last change the whole house is checked once more."""


class Workbench:
    """A session with its desk and its view; shown by a notebook as both, side by side.

    `session` is the spec being worked on; `picked` the id of the part that was clicked last, empty for none.
    """

    def __init__(self, session: Session, *, file: str = "", height: int = 660, theme: Theme = "light") -> None:
        self.session = session
        self.view = PanelView(height=height, theme=theme, acts=True, layout={"flex": "1 1 0", "min_width": "0"})
        self.desk = Desk(layout={"flex": f"0 0 {_DESK_WIDTH}px"})
        self.box = ipywidgets.HBox([self.desk, self.view], layout={"width": "100%"})
        self._file = file
        self._height = height
        self._panel = session.house.panels[0].label
        self._thing = "framing"
        self._tab = "Turn"
        self._problem = ""
        self._said: tuple[str, list[tuple[str, str]]] = (showing.stops(session), [])
        self._replies = 0
        self._sliders = Sliders()
        self._work = Work(self._tell)
        self._settling: asyncio.TimerHandle | None = None
        self._acts: Mapping[str, Callable[[dict[str, Any]], None]] = {
            "set": self._set,
            "slide": self._slide,
            "panel": lambda content: self.open(content["id"]),
            "thing": self._choose,
            "tab": self._turn_to,
            "undo": lambda _: self._go(self.session.undo),
            "redo": lambda _: self._go(self.session.redo),
            "save": self._save,
            "propose": lambda _: self._propose(),
            "build": self._build,
            "cancel": lambda _: self.cancel(),
            "apply": self._apply,
            "waive": self._waive,
        }
        self.desk.on_msg(self._hear)
        self.view.on_msg(self._hear)
        self.view.observe(self._opened, "panel")
        self.view.observe(self._picked, "picked")
        self.view.observe(lambda _: self._tell(), "theme")
        self._show()
        if len(session.house.panels) == 1:
            self.view.panel = self._panel

    @property
    def picked(self) -> str:
        """The id of the part that is picked in the view, empty for none."""
        return str(self.view.picked)

    @property
    def busy(self) -> str:
        """What is at work, empty for nothing."""
        return self._work.words

    def open(self, label: str) -> None:
        """Open a panel or a row of trusses in the view and turn to it. Unknown labels change nothing."""
        if label in self._labels():
            self._panel = label
            self.view.panel = label
            self._tell()

    def cancel(self) -> None:
        """End what is at work; nothing of it is kept."""
        self._work.cancel()

    def _repr_mimebundle_(self, **options: Any) -> Any:
        return self.box._repr_mimebundle_(**options)

    def _hear(self, _widget: object, content: dict[str, Any], _buffers: object) -> None:
        """Do what a page asks for and answer it; where it cannot be done, say why and leave all as it was."""
        act = self._acts.get(content.get("kind", ""))
        if act is None or (self.busy and content["kind"] != "cancel"):
            return
        self._problem = ""
        self._replies += 1
        try:
            act(content)
        except PanelgenError as error:
            self._problem = showing.problem_words(error)
            self._show()
        if self.desk.state["replies"] != self._replies:
            self._tell()

    def _set(self, content: dict[str, Any]) -> None:
        control = self._control(content["id"])
        if control is not None and content["text"] != control.text:
            self._edit(control, control.read(content["text"]), content["text"] or "left out")

    def _slide(self, content: dict[str, Any]) -> None:
        control = self._control(content["id"])
        if control is not None:
            length, unit = control.at(int(content["place"])), self.session.spec.unit
            self._edit(control, written_length(length, unit), format_length(length, unit), bool(content["trying"]))

    def _edit(self, control: Control, value: Any, text: str, trying: bool = False) -> None:
        title = next(thing.title for thing in self._things() if control in thing.controls)
        words = f"{title}, {control.label} {text}"
        self.session.edit_all(dict.fromkeys(control.paths, value), words, trying=trying, quick=True)
        self._changed()

    def _apply(self, content: dict[str, Any]) -> None:
        self.session.apply(self._finding(content["finding"]))
        self._changed()

    def _waive(self, content: dict[str, Any]) -> None:
        self.session.waive(self._finding(content["finding"]), content["reason"], content["decided_by"])
        self._changed()

    def _finding(self, key: str) -> Finding:
        finding = self.view.finding_of(key)
        if finding is None:
            raise BadValueError("this finding is not there any more", "choose it again in the list")
        return finding

    def _go(self, way: Callable[[], bool]) -> None:
        if way():
            self._changed()

    def _save(self, content: dict[str, Any]) -> None:
        self._file = content["file"].strip() or self._file
        self.session.save(self._file)
        self._said = (f"Saved as {self._file}", [])
        self._tell()

    def _choose(self, content: dict[str, Any]) -> None:
        self._thing = content["id"]
        self._tell()

    def _turn_to(self, content: dict[str, Any]) -> None:
        self._tab = content["id"]
        self._tell()

    def _propose(self) -> None:
        self._start("Looking for ways out", self.session.propose, lambda _: showing.stops(self.session))

    def _build(self, content: dict[str, Any]) -> None:
        folder, house, label = content["folder"].strip(), self.session.house, self._panel
        catalog = self.session.design.catalog

        def work(tick: Tick) -> int:
            tick(0, 1)
            return len(api.build(house, folder, [label], catalog, lambda _what, number, total: tick(number, total)))

        self._start(f"Writing {label}", work, lambda count: f"{count} files written into {folder}")

    def _start(self, words: str, work: Callable[[Tick], Any], done: Callable[[Any], str]) -> None:
        """Begin long work; `done` says what came of it."""

        def ended(job: Job[Any]) -> None:
            if isinstance(job.error, PanelgenError):
                self._problem = showing.problem_words(job.error)
            elif job.error is not None:
                raise job.error
            else:
                self._said = (f"{words}: cancelled" if job.is_cancelled else done(job.result), [])
            self._show()

        self._work.start(words, work, ended)

    def _opened(self, change: Any) -> None:
        if change["new"] in self._labels():
            self._panel = change["new"]
        self._tell()

    def _picked(self, change: Any) -> None:
        home = self.session.design.panel(self._panel)
        thing = thing_of(home, change["new"]) if home is not None else ""
        if thing:
            self._thing = thing
            self._tell()

    def _changed(self) -> None:
        """After a step of the session: show it, and check the whole house once more when it stays so for a while.

        A step that has no picture is taken back; raises GeometryError, which says why.
        """
        try:
            self.refresh()
        except GeometryError:
            self.session.undo()
            raise
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            return
        if self._settling is not None:
            self._settling.cancel()
        self._settling = loop.call_later(_SETTLE, self._settle)

    def _settle(self) -> None:
        if not self.busy and self.session.settle():
            self.refresh()

    def refresh(self) -> None:
        """Show what the session holds now, as after a step that was made from Python."""
        self._said = showing.said(self.session.change)
        self._show()

    def _show(self) -> None:
        self.view.show(self.session.house, self.session.findings)
        if self._panel not in self._labels():
            self._panel = self.session.house.panels[0].label
        self._tell()

    def _tell(self) -> None:
        """Tell the desk all that it shows."""
        session, listed = self.session, self._things()
        thing = next((one for one in listed if one.id == self._thing), listed[0] if listed else _NOTHING)
        self.desk.state = {
            "replies": self._replies,
            "theme": self.view.theme,
            "height": self._height,
            "tab": self._tab,
            "busy": self._work.state,
            "panels": [(label, label.removeprefix("trusses ")) for label in self._labels()],
            "panel": self._panel,
            "things": [(one.id, one.title) for one in listed],
            "thing": thing.id,
            "note": thing.note,
            "controls": [showing.control_state(control) for control in thing.controls],
            "figures": showing.figure_rows(*session.figures(self._panel)),
            "problem": self._problem,
            "said": self._said[0],
            "news": self._said[1],
            "charts": showing.charts(session, self._panel) if self._tab == "Charts" else [],
            "stops": showing.stops(session),
            "undo": session.undoes,
            "redo": session.redoes,
            "file": self._file,
            "folder": f"{Path(self._file).stem}-models",
            "saved": session.is_saved,
        }

    def _labels(self) -> list[str]:
        """Whatever can be opened: the panels, then the rows of trusses."""
        house = self.session.house
        return [*(panel.label for panel in house.panels), *(row_label(row) for row in truss_rows(house.trusses))]

    def _things(self) -> tuple[Thing, ...]:
        home = self.session.design.panel(self._panel)
        design = self.session.design
        rows = truss_row(design.spec, self._panel, Controls(design.spec, design.catalog)) if home is None else ()
        listed = rows if home is None else things(design, home)
        return tuple(replace(thing, controls=tuple(map(self._sliders.steady, thing.controls))) for thing in listed)

    def _control(self, id: str) -> Control | None:
        return next((one for thing in self._things() for one in thing.controls if one.id == id), None)
