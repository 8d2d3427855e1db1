"""What a wall is made of in the model: layer thicknesses, their place in its depth, and material names."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from panelgen.geometry.frames import Floats, Point2
from panelgen.intake.source import Model

__all__ = ["Makeup", "Ply", "read_makeup"]

_MASONRY = re.compile(r"masonry|brick|block|\bcmu\b|stone|lime|clay|concrete|beton|mauerwerk|ziegel", re.IGNORECASE)
_NOT_MASONRY = re.compile(r"wool|insul|board|panel|blocking|screed", re.IGNORECASE)
_CONCRETE = re.compile(r"concrete|beton", re.IGNORECASE)
_UNIT = re.compile(r"block|brick|masonry|\bcmu\b|panel|board", re.IGNORECASE)
_MATCH = 2.0
"""Layers are believed where their sum meets the wall's thickness, and their place its faces, within this (mm)."""


@dataclass(frozen=True, slots=True)
class Ply:
    """One layer: `middle` is how far its middle lies right of the wall's own middle (mm); None where unknown."""

    material: str
    thickness: float
    middle: float | None = None


@dataclass(frozen=True, slots=True)
class Makeup:
    """The layers of a wall in the order of the model, or bare material names without thickness."""

    plies: tuple[Ply, ...] = ()
    materials: tuple[str, ...] = ()

    @property
    def is_masonry(self) -> bool:
        """True where some material is masonry or concrete."""
        return any(_MASONRY.search(name) and not _NOT_MASONRY.search(name) for name in self.materials)

    @property
    def is_concrete(self) -> bool:
        """True where the thickest layer, or every material named, is poured concrete."""
        names = (max(self.plies, key=lambda ply: ply.thickness).material,) if self.plies else self.materials
        return bool(names) and all(_CONCRETE.search(name) and not _UNIT.search(name) for name in names)

    @property
    def core(self) -> Ply | None:
        """The thickest layer of a wall of several: its studs. None where that cannot be told, or is masonry."""
        if len(self.plies) < 2 or self.is_masonry:
            return None
        return max(self.plies, key=lambda ply: ply.thickness)

    @property
    def words(self) -> str:
        """The material names, once each, in the order of the model."""
        return ", ".join(dict.fromkeys(self.materials))

    def mirrored(self) -> Makeup:
        """The same layers for a wall walked the other way."""
        plies = tuple(replace(ply, middle=None if ply.middle is None else -ply.middle) for ply in self.plies)
        return replace(self, plies=plies)


def read_makeup(
    model: Model, element: Any, placement: Floats, direction: Point2, reference: float, thickness: float
) -> Makeup:
    """The makeup of a wall.

    `placement` is the wall's (4, 4) placement; `direction` its plan direction; `reference` how far its
    reference line lies right of its middle and `thickness` its own, mm.
    """
    from ifcopenshell.util.element import get_material

    material = get_material(element)
    if material is None:
        return Makeup()
    usage = material if material.is_a("IfcMaterialLayerSetUsage") else None
    layer_set = usage.ForLayerSet if usage else material
    if not layer_set.is_a("IfcMaterialLayerSet"):
        return Makeup(materials=_names(material))
    sizes = [(_name(layer.Material), layer.LayerThickness * model.scale) for layer in layer_set.MaterialLayers]
    plies = tuple(Ply(name, size) for name, size in sizes if size > 0)
    if usage is not None and usage.LayerSetDirection == "AXIS2":
        y = placement[:2, 1]
        rightward = 1.0 if y[0] * direction[1] - y[1] * direction[0] > 0 else -1.0
        sense = rightward * (1.0 if usage.DirectionSense == "POSITIVE" else -1.0)
        first = reference + rightward * usage.OffsetFromReferenceLine * model.scale
        plies = _placed(plies, first, sense, thickness)
    return Makeup(plies, tuple(name for name, _ in sizes if name))


def _placed(plies: tuple[Ply, ...], first: float, sense: float, thickness: float) -> tuple[Ply, ...]:
    """The layers with their place, stacked from `first` in `sense`; unplaced where they miss the body."""
    bounds = first + sense * np.cumsum([0.0, *(ply.thickness for ply in plies)])
    low, high = min(bounds[0], bounds[-1]), max(bounds[0], bounds[-1])
    if abs(low + thickness / 2) > _MATCH or abs(high - thickness / 2) > _MATCH:
        return plies
    middles = (bounds[:-1] + bounds[1:]) / 2
    return tuple(replace(ply, middle=float(at)) for ply, at in zip(plies, middles, strict=True))


def _names(material: Any) -> tuple[str, ...]:
    """Names of a single material, a list, constituents or profiles."""
    if material.is_a("IfcMaterial"):
        parts = [material]
    elif material.is_a("IfcMaterialList"):
        parts = list(material.Materials)
    elif material.is_a("IfcMaterialConstituentSet"):
        parts = [part.Material for part in material.MaterialConstituents or ()]
    else:
        parts = []
    return tuple(name for part in parts if (name := _name(part)))


def _name(material: Any) -> str:
    return str(material.Name or "") if material is not None else ""
