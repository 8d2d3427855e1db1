"""What the kernel itself says about a shape: whether it is valid, and its volume."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from panelgen.solids.edges import compound

__all__ = ["all_valid", "volume_of"]


def all_valid(shapes: Sequence[Any]) -> bool:
    """Whether topology and geometry of every shape hold together; many at once cost less than one by one."""
    from OCP.BRepCheck import BRepCheck_Analyzer

    return not shapes or bool(BRepCheck_Analyzer(compound(shapes), True, True, False).IsValid())


def volume_of(shape: Any) -> float:
    """Volume, mm3: negative for a solid turned inside out."""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, properties)
    return float(properties.Mass())
