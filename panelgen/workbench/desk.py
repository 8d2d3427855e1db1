"""The desk as a widget: one state that Python says, and messages of what a person did."""

from __future__ import annotations

from pathlib import Path

import anywidget
import traitlets

__all__ = ["Desk"]

_STATIC = Path(__file__).parent / "static"


class Desk(anywidget.AnyWidget):
    """Controls, figures and history beside a view. `state` is what `panelgen.workbench.showing` makes.

    A page sends ``{"kind": ...}`` with ``set`` (id, text), ``slide`` (id, place, trying), ``panel``, ``thing`` or
    ``tab`` (id), ``undo``, ``redo``, ``save`` (file), ``propose``, ``build`` (folder) or ``cancel``.
    """

    _esm = _STATIC / "desk.js"
    _css = _STATIC / "desk.css"

    state = traitlets.Dict().tag(sync=True)
