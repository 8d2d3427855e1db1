"""Groups of parts a person looks at together: framing, sheathing, straps, services."""

from __future__ import annotations

from enum import StrEnum

from panelgen.errors import GeometryError
from panelgen.model.layers import LayerKind
from panelgen.model.panel import Panel

__all__ = ["PartGroup", "layer_groups"]


class PartGroup(StrEnum):
    """One group of parts, outside to inside."""

    OUTER_SHEATHING = "outer sheathing"
    FRAMING = "framing"
    INNER_SHEATHING = "inner sheathing"
    STRAPPING = "strapping"
    SERVICES = "services"
    TRUSSES = "supplied trusses"


def layer_groups(panel: Panel) -> dict[str, PartGroup]:
    """The group of every layer, by layer name: sheathing is told apart by the side of the framing it is on."""
    framing = panel.framing
    groups = {}
    for layer in panel.layers:
        if layer.kind is LayerKind.SHEATHING:
            is_outer = layer.z0 >= framing.z1
            if not is_outer and layer.z1 > framing.z0:
                raise GeometryError(f"panel {panel.label}: layer {layer.name} lies inside the framing")
            groups[layer.name] = PartGroup.OUTER_SHEATHING if is_outer else PartGroup.INNER_SHEATHING
        else:
            groups[layer.name] = PartGroup.FRAMING if layer.kind is LayerKind.FRAMING else PartGroup.STRAPPING
    return groups
