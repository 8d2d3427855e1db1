"""Wall assemblies: ordered layers, outside to inside."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from panelgen.errors import BadValueError
from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Gap, Spacing, Text

__all__ = ["Assembly", "FramingLayer", "LayerSpec", "SheathingLayer", "StrappingLayer"]

_ORDER = "list the layers from outside to inside: sheathing, framing, sheathing, strapping"


class FramingLayer(SpecModel):
    """Studs and plates, and the insulation between them (null for an empty cavity)."""

    layer: Literal["framing"]
    stock: Text = "2x6"
    species: Text = "SPF"
    grade: Text = "No.2"
    spacing: Spacing = 609.6
    insulation: Text | None = "dense-pack-cellulose"
    top_plates: Literal[1, 2] = 2


class SheathingLayer(SpecModel):
    """Sheets on one face of the framing. `gap` is left between neighbouring sheets."""

    layer: Literal["sheathing"]
    product: Text
    barrier: Literal["none", "air", "weather"] = "none"
    gap: Gap = 3.175


class StrappingLayer(SpecModel):
    """Horizontal straps, flat, inboard of the inner sheathing; the space between is the service cavity."""

    layer: Literal["strapping"]
    stock: Text = "2x3"
    species: Text = "SPF"
    grade: Text = "No.2"
    spacing: Spacing = 609.6


LayerSpec = Annotated[FramingLayer | SheathingLayer | StrappingLayer, Field(discriminator="layer")]


class Assembly(SpecModel):
    """Layers from outside to inside: at most one sheathing each side of exactly one framing."""

    layers: tuple[LayerSpec, ...] = Field(min_length=1)

    @model_validator(mode="after")
    def _order(self) -> Assembly:
        kinds = [layer.layer for layer in self.layers]
        if kinds.count("framing") != 1:
            raise BadValueError(f"an assembly has exactly one framing layer, not {kinds.count('framing')}", _ORDER)
        at = kinds.index("framing")
        if kinds[:at] not in ([], ["sheathing"]):
            raise BadValueError("outside the framing there may be one sheathing layer and nothing else", _ORDER)
        if kinds[at + 1 :] not in ([], ["sheathing"], ["sheathing", "strapping"]):
            raise BadValueError("inside the framing come at most one sheathing layer, then one strapping layer", _ORDER)
        return self

    @property
    def framing(self) -> FramingLayer:
        """The one framing layer."""
        return next(layer for layer in self.layers if isinstance(layer, FramingLayer))

    @property
    def outer_sheathing(self) -> SheathingLayer | None:
        """The sheathing outside the framing."""
        first = self.layers[0]
        return first if isinstance(first, SheathingLayer) else None

    @property
    def inner_sheathing(self) -> SheathingLayer | None:
        """The sheathing inside the framing."""
        inside = self.layers[self.layers.index(self.framing) + 1 :]
        return next((layer for layer in inside if isinstance(layer, SheathingLayer)), None)

    @property
    def strapping(self) -> StrappingLayer | None:
        """The straps of the service cavity."""
        return next((layer for layer in self.layers if isinstance(layer, StrappingLayer)), None)
