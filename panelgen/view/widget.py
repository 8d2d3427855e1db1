"""The view as a notebook widget: a small loader fetches the bundle once a page, then messages change the picture."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from panelgen.model import Finding, House, Panel
from panelgen.view.page import bundle
from panelgen.view.payload import Message, Payload, changes, kernel_looks, payload_of

__all__ = ["PanelView"]


class PanelView(anywidget.AnyWidget):
    """A view of a house or a panel. Make one with `panelgen.view.view`.

    Traits, in step with every picture of it: `picked` is the id of the part that is picked and `panel` the label of
    the open panel (both empty for none; set them to pick and to open), `finding` the place in the list of the
    finding flown to, -1 for none; `theme` is light, dark or auto, `height` is in pixels.
    """

    _esm = Path(__file__).parent / "static" / "loader.js"

    picked = traitlets.Unicode("").tag(sync=True)
    panel = traitlets.Unicode("").tag(sync=True)
    finding = traitlets.Int(-1).tag(sync=True)
    theme = traitlets.Enum(("light", "dark", "auto"), "light").tag(sync=True)
    height = traitlets.Int(640, min=320).tag(sync=True)

    def __init__(self, **traits: Any) -> None:
        self._looks = kernel_looks()
        self._payload: Payload | None = None
        super().__init__(**traits)
        self.on_msg(self._hear)

    def show(self, thing: House | Panel, findings: Iterable[Finding] = ()) -> Message:
        """Show a house or a panel; of one shown before, only what changed is sent. Returns what was sent.

        Raises GeometryError where a part has no shape; the picture stays as it was.
        """
        new = payload_of(thing, findings, self._looks)
        message = changes(self._payload, new)
        self._payload = new
        self._tell(message)
        return message

    def _tell(self, message: Message) -> None:
        self.send({"kind": "payload", "head": message.head}, list(message.buffers))

    def _hear(self, _widget: PanelView, content: dict[str, Any], _buffers: Sequence[memoryview]) -> None:
        """Answer a page: with the bundle where it has none yet, with all there is to show where it is ready."""
        if content.get("kind") == "bundle":
            self.send({"kind": "bundle"}, [bundle().encode()])
        elif content.get("kind") == "ready" and self._payload is not None:
            self._tell(changes(None, self._payload))
