"""Where the layers of a panel move when it is exploded: whole steps outward or inward from the framing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from panelgen.model import Layer, Panel

__all__ = ["Slots"]


@dataclass(frozen=True, slots=True)
class Slots:
    """The slot of each layer by name: 0 the framing, 1 the next toward the weather side, -1 toward the room."""

    layers: tuple[Layer, ...]
    by_name: Mapping[str, int]

    @classmethod
    def of(cls, panel: Panel) -> Slots:
        """The slots of a panel's layers."""
        layers = tuple(sorted(panel.layers, key=lambda layer: layer.z0))
        zero = layers.index(panel.framing)
        return cls(layers, {layer.name: place - zero for place, layer in enumerate(layers)})

    def of_layer(self, name: str) -> int:
        """The slot of the layer of that name."""
        return self.by_name[name]

    def at(self, z: float) -> int:
        """The slot of the layer that holds, or lies nearest to, a depth in the panel, mm."""
        nearest = min(self.layers, key=lambda layer: max(layer.z0 - z, z - layer.z1))
        return self.by_name[nearest.name]
