"""The view as a notebook widget: a small loader fetches the bundle once a page, then messages change the picture."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from panelgen.model import Finding, House, Panel
from panelgen.view.layers import HIDDEN_AT_FIRST
from panelgen.view.page import bundle
from panelgen.view.payload import Message, Payload, changes, kernel_packer, payload_of
from panelgen.view.tables import finding_key

__all__ = ["PanelView"]


class PanelView(anywidget.AnyWidget):
    """A view of a house or a panel. Make one with `panelgen.view.view`.

    Traits, in step with every picture of it; set them to do the same from Python: `picked` is the id of the part that
    is picked, `panel` the label of the open panel, `finding` the key of the finding flown to, each empty for none;
    `hidden_layers` are names of layers; `theme` is light, dark or auto. `height` is in pixels.

    With `acts` set, findings have buttons to act on them, and a page sends ``{"kind": "apply", "finding": key}`` or
    ``{"kind": "waive", "finding": key, "reason": words, "decided_by": name}``: listen with ``on_msg`` and ask
    `finding_of` which finding is meant.
    """

    _esm = Path(__file__).parent / "static" / "loader.js"

    picked = traitlets.Unicode("").tag(sync=True)
    panel = traitlets.Unicode("").tag(sync=True)
    finding = traitlets.Unicode("").tag(sync=True)
    hidden_layers = traitlets.List(traitlets.Unicode(), [*map(str, HIDDEN_AT_FIRST)]).tag(sync=True)
    theme = traitlets.Enum(("light", "dark", "auto"), "light").tag(sync=True)
    height = traitlets.Int(640, min=320).tag(sync=True)
    acts = traitlets.Bool(False).tag(sync=True)

    def __init__(self, **traits: Any) -> None:
        self._packer = kernel_packer()
        self._payload: Payload | None = None
        self._findings: tuple[Finding, ...] = ()
        super().__init__(**traits)
        self.on_msg(self._hear)

    def show(self, thing: House | Panel, findings: Iterable[Finding] = ()) -> Message:
        """Show a house or a panel; of one shown before, only what changed is sent. Returns what was sent.

        Raises GeometryError where a part has no shape; the picture stays as it was.
        """
        found = tuple(findings)
        new = payload_of(thing, found, self._packer)
        message = changes(self._payload, new)
        self._payload, self._findings = new, found
        self._tell(message)
        return message

    def finding_of(self, key: str) -> Finding | None:
        """The finding shown that has that key."""
        return next((finding for finding in self._findings if finding_key(finding) == key), None)

    def _tell(self, message: Message) -> None:
        self.send({"kind": "payload", "head": message.head}, list(message.buffers))

    def _hear(self, _widget: PanelView, content: dict[str, Any], _buffers: Sequence[memoryview]) -> None:
        """Answer a page: with the bundle where it has none yet, with all there is to show where it is ready."""
        if content.get("kind") == "bundle":
            self.send({"kind": "bundle"}, [bundle().encode()])
        elif content.get("kind") == "ready" and self._payload is not None:
            self._tell(changes(None, self._payload))
