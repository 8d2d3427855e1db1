"""A house or a panel as data for the view: heads that name their buffers by content, and the buffers.

A message is what a reader must be told to come from one payload to the next: the heads that changed and the
buffers that it does not have yet. The first message is the way from nothing, so there is one format and one path.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from panelgen.geometry.frames import WORLD, Frame
from panelgen.model import Finding, House, Panel
from panelgen.view.blocks import Block, shape_blocks
from panelgen.view.layers import HIDDEN_AT_FIRST, LAYER_COLOURS, MARK_COLOUR, ViewLayer
from panelgen.view.looks import Looks
from panelgen.view.parts import panel_parts
from panelgen.view.tables import findings_table, parts_table

__all__ = ["FORMAT", "Message", "Payload", "changes", "house_payload", "kernel_looks", "panel_payload", "payload_of"]

FORMAT = 1
"""Raised when a reader of the earlier format would misread a message."""


@dataclass(frozen=True, slots=True)
class Payload:
    """All there is to show. `house` is the head of the whole, `panels` the head of each panel by label, in the
    order in which they are set up; heads are JSON values, `buffers` are by key.
    """

    house: Mapping[str, Any]
    panels: Mapping[str, Mapping[str, Any]]
    buffers: Mapping[str, bytes] = field(repr=False)

    @property
    def size(self) -> int:
        """Bytes in all buffers."""
        return sum(map(len, self.buffers.values()))


@dataclass(frozen=True, slots=True)
class Message:
    """`head` is JSON: ``format``, ``house`` (its head, null where unchanged), ``order`` (labels, null where
    unchanged), ``panels`` (heads that changed) and ``keys``, the name of each of the `buffers`.
    """

    head: Mapping[str, Any]
    buffers: Sequence[bytes] = field(repr=False)

    @property
    def size(self) -> int:
        """Bytes in all buffers."""
        return sum(map(len, self.buffers))


def kernel_looks() -> Looks:
    """Looks that ask the CAD kernel for the few shapes that only it can cut; it is loaded when it is first asked."""
    from panelgen.solids import tessellated

    return Looks(tessellated)


def house_payload(house: House, findings: Iterable[Finding] = (), looks: Looks | None = None) -> Payload:
    """All panels of a house with the `findings` about them; `looks` of an earlier call saves meshing again.

    Raises GeometryError where a part has no shape.
    """
    head = {"name": house.name, "rules": house.rules, "single": False}
    return _payload(head, [(panel, panel.frame) for panel in house.panels], findings, looks)


def panel_payload(panel: Panel, findings: Iterable[Finding] = (), looks: Looks | None = None) -> Payload:
    """One panel by itself, as `house_payload`."""
    head = {"name": panel.label, "rules": "", "single": True}
    return _payload(head, [(panel, WORLD)], findings, looks)


def payload_of(thing: House | Panel, findings: Iterable[Finding] = (), looks: Looks | None = None) -> Payload:
    """The payload of either."""
    if isinstance(thing, House):
        return house_payload(thing, findings, looks)
    return panel_payload(thing, findings, looks)


def changes(old: Payload | None, new: Payload) -> Message:
    """What a reader that holds `old`, or nothing, must be told to hold `new`."""
    known: Mapping[str, bytes] = {} if old is None else old.buffers
    keys = [key for key in new.buffers if key not in known]
    return Message(
        {
            "format": FORMAT,
            "house": None if old is not None and old.house == new.house else new.house,
            "order": None if old is not None and list(old.panels) == list(new.panels) else list(new.panels),
            "panels": [head for label, head in new.panels.items() if old is None or old.panels.get(label) != head],
            "keys": keys,
        },
        [new.buffers[key] for key in keys],
    )


def _payload(
    head: dict[str, Any], panels: Sequence[tuple[Panel, Frame]], findings: Iterable[Finding], looks: Looks | None
) -> Payload:
    looks = looks or kernel_looks()
    by_panel: dict[str, list[Finding]] = {panel.label: [] for panel, _ in panels}
    rest: list[Finding] = []
    for finding in findings:
        by_panel.get(finding.panel, rest).append(finding)
    buffers: dict[str, bytes] = {}
    heads = {panel.label: _panel_head(panel, frame, by_panel[panel.label], looks, buffers) for panel, frame in panels}
    own = _kept(Block("findings", "", 0, findings_table(rest)), buffers)
    return Payload({**head, "layers": _LAYERS, "mark": MARK_COLOUR, "blocks": [own]}, heads, buffers)


_LAYERS = [
    {"name": layer.value, "colour": LAYER_COLOURS[layer], "shown": layer not in HIDDEN_AT_FIRST} for layer in ViewLayer
]


def _panel_head(
    panel: Panel, frame: Frame, findings: Sequence[Finding], looks: Looks, buffers: dict[str, bytes]
) -> dict[str, Any]:
    parts = panel_parts(panel, looks)
    blocks = [
        *shape_blocks(parts),
        Block("parts", "", 0, parts_table(parts)),
        Block("findings", "", 0, findings_table(findings)),
    ]
    return {
        "label": panel.label,
        "kind": panel.kind.value,
        "level": panel.level,
        "wall": panel.wall,
        "frame": [*frame.origin, *frame.x, *frame.y],
        "size": [panel.length, panel.height],
        "depth": panel.depth,
        "mass": round(sum(part.mass for part in parts if part.mass is not None), 1),
        "blocks": [_kept(block, buffers) for block in blocks],
    }


def _kept(block: Block, buffers: dict[str, bytes]) -> dict[str, Any]:
    """The head of a block, its bytes put with the buffers."""
    key = block.key
    buffers[key] = block.data
    return {"kind": block.kind, "layer": block.layer, "slot": block.slot, "key": key}
