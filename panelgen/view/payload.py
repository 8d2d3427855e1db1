"""A house or a panel as data for the view: heads that name their buffers by content, and the buffers.

A message is what a reader must be told to come from one payload to the next: the heads that changed and the
buffers that it does not have yet. The first message is the way from nothing, so there is one format and one path.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from panelgen.envelope.setting import setting_order
from panelgen.model import Finding, House, Panel, Truss, truss_rows
from panelgen.review.groups import group_findings
from panelgen.view.blocks import Block
from panelgen.view.layers import HIDDEN_AT_FIRST, LAYER_COLOURS, MARK_COLOUR, ViewLayer
from panelgen.view.packing import Packer, packed
from panelgen.view.tables import causes_table, findings_table
from panelgen.view.trusses import row_head, row_label

__all__ = ["FORMAT", "Message", "Payload", "changes", "house_payload", "kernel_packer", "panel_payload", "payload_of"]

FORMAT = 1
"""Raised when a reader of the earlier format would misread a message."""


@dataclass(frozen=True, slots=True)
class Payload:
    """All there is to show. `house` is the head of the whole, `panels` the head of each panel by label, in the
    order in which they are set on site, and of each row of trusses; heads are JSON values, `buffers` are by key.
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


def kernel_packer() -> Packer:
    """A packer that asks the CAD kernel for the few shapes that only it can cut, and loads it when it first must."""
    from panelgen.solids import tessellated

    return Packer(tessellated)


def house_payload(house: House, findings: Iterable[Finding] = (), packer: Packer | None = None) -> Payload:
    """All panels of a house, then its supplied trusses, with the `findings` about them.

    The `packer` of an earlier call saves what did not change.
    Raises GeometryError where a part has no shape.
    """
    head = {"name": house.name, "rules": house.rules, "single": False}
    return _payload(head, house, setting_order(house), findings, packer, tuple(truss_rows(house.trusses)))


def panel_payload(panel: Panel, findings: Iterable[Finding] = (), packer: Packer | None = None) -> Payload:
    """One panel by itself, as `house_payload`; findings about other panels are left out."""
    head = {"name": panel.label, "rules": "", "single": True}
    return _payload(head, panel, (panel,), findings, packer)


def payload_of(thing: House | Panel, findings: Iterable[Finding] = (), packer: Packer | None = None) -> Payload:
    """The payload of either."""
    if isinstance(thing, House):
        return house_payload(thing, findings, packer)
    return panel_payload(thing, findings, packer)


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
    head: Mapping[str, Any],
    thing: House | Panel,
    panels: Sequence[Panel],
    findings: Iterable[Finding],
    packer: Packer | None,
    rows: Sequence[tuple[Truss, ...]] = (),
) -> Payload:
    packer = packer or kernel_packer()
    by_panel: dict[str, list[Finding]] = {"": [], **{panel.label: [] for panel in panels}}
    found = [finding for finding in findings if finding.panel in by_panel]
    for finding in found:
        by_panel[finding.panel].append(finding)
    heads: dict[str, dict[str, Any]] = {}
    buffers: dict[str, bytes] = {}
    for panel in panels:
        mass, shapes = packer.panel(panel)
        own = packed([Block.table("findings", findings_table(by_panel[panel.label]))])
        heads[panel.label] = _panel_head(panel, mass, (*shapes.heads, *own.heads))
        buffers |= {**shapes.buffers, **own.buffers}
    for row in rows:
        shapes, own = packer.trusses(row), packed([Block.table("findings", findings_table(()))])
        heads[row_label(row)] = {**row_head(row), "blocks": (*shapes.heads, *own.heads)}
        buffers |= {**shapes.buffers, **own.buffers}
    groups = group_findings(thing, found)
    tables = {"findings": findings_table(by_panel[""]), "causes": causes_table(groups)}
    whole = packed(Block.table(kind, data) for kind, data in tables.items())
    layers = [layer for layer in _LAYERS if rows or layer["name"] != ViewLayer.TRUSSES]
    house = {**head, "layers": layers, "mark": MARK_COLOUR, "blocks": whole.heads}
    return Payload(house, heads, {**buffers, **whole.buffers})


_LAYERS = [
    {"name": layer.value, "colour": LAYER_COLOURS[layer], "shown": layer not in HIDDEN_AT_FIRST} for layer in ViewLayer
]


def _panel_head(panel: Panel, mass: float, blocks: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    return {
        "label": panel.label,
        "kind": panel.kind.value,
        "level": panel.level,
        "wall": panel.wall,
        "frame": [*panel.frame.origin, *panel.frame.x, *panel.frame.y],
        "size": [panel.length, panel.height],
        "depth": panel.depth,
        "mass": mass,
        "blocks": blocks,
    }
