"""Panels and rows of trusses packed for the view: heads and buffers of each, made once and kept while a panel lives."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any
from weakref import WeakKeyDictionary

from panelgen.meshes import Tessellate
from panelgen.model import Panel, Truss
from panelgen.view.blocks import Block, shape_blocks
from panelgen.view.looks import Looks
from panelgen.view.parts import Part, panel_parts
from panelgen.view.tables import parts_table
from panelgen.view.trusses import truss_parts

__all__ = ["Packed", "Packer", "packed"]


@dataclass(frozen=True, slots=True)
class Packed:
    """`heads` say of each block its kind, layer, slot and key; `buffers` hold the bytes by key."""

    heads: tuple[Mapping[str, Any], ...]
    buffers: Mapping[str, bytes] = field(repr=False)


def packed(blocks: Iterable[Block]) -> Packed:
    """Blocks as heads and buffers."""
    heads, buffers = [], {}
    for block in blocks:
        key = block.key
        buffers[key] = block.data
        heads.append({"kind": block.kind, "layer": block.layer, "slot": block.slot, "key": key})
    return Packed(tuple(heads), buffers)


class Packer:
    """Keep one while a house is edited: a panel that did not change is not packed again, nor an equal shape meshed.

    `tessellate` makes the few bodies that only a CAD kernel can cut.
    """

    def __init__(self, tessellate: Tessellate) -> None:
        self._looks = Looks(tessellate)
        self._panels: WeakKeyDictionary[Panel, tuple[float, Packed]] = WeakKeyDictionary()

    def panel(self, panel: Panel) -> tuple[float, Packed]:
        """The mass of a panel, kg, and its shapes and parts. Raises GeometryError where a part has no shape."""
        found = self._panels.get(panel)
        if found is None:
            parts = panel_parts(panel, self._looks)
            mass = round(sum(part.mass for part in parts if part.mass is not None), 1)
            found = self._panels[panel] = (mass, _packed_parts(parts))
        return found

    def trusses(self, row: Sequence[Truss]) -> Packed:
        """The shapes and parts of a row of trusses."""
        return _packed_parts(truss_parts(row, self._looks))


def _packed_parts(parts: Sequence[Part]) -> Packed:
    return packed([*shape_blocks(parts), Block.table("parts", parts_table(parts))])
