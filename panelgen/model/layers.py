"""The layers of a panel, outside to inside, and the depth (panel z, mm) each one takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Barrier", "Layer", "LayerKind", "underside"]


class LayerKind(StrEnum):
    """What a layer is made of; outer and inner are told apart by their place."""

    SHEATHING = "sheathing"
    FRAMING = "framing"
    STRAPPING = "strapping"


class Barrier(StrEnum):
    """What a layer must keep unbroken."""

    NONE = "none"
    AIR = "air"
    WEATHER = "weather"


@dataclass(frozen=True, slots=True)
class Layer:
    """A slab of the panel between `z0` and `z1` (mm, toward the weather side)."""

    name: str
    kind: LayerKind
    product: str
    z0: float
    z1: float
    barrier: Barrier = Barrier.NONE

    @property
    def thickness(self) -> float:
        """Depth of the layer, mm."""
        return self.z1 - self.z0


def underside(layers: Sequence[Layer]) -> float:
    """Panel z of the face with which a floor or ceiling lies on walls, mm; its straps stop between them."""
    return min(layer.z0 for layer in layers if layer.kind is not LayerKind.STRAPPING)
