"""The layers a person peels off a panel one by one, with a colour for each from the shared palette."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from panelgen.model.groups import PartGroup
from panelgen.model.palette import GROUP_COLOURS, OKABE_ITO, Rgb

__all__ = ["HIDDEN_AT_FIRST", "LAYER_COLOURS", "MARK_COLOUR", "OF_GROUP", "ViewLayer"]


class ViewLayer(StrEnum):
    """What is shown and hidden together, from the weather side to the room and then what lies between."""

    OUTER_SHEATHING = "outer sheathing"
    FRAMING = "framing"
    INNER_SHEATHING = "inner sheathing"
    STRAPPING = "strapping"
    SERVICES = "services"
    UNITS = "windows and doors"
    FASTENERS = "nails and screws"
    HARDWARE = "hardware"
    INSULATION = "insulation"
    TRUSSES = "supplied trusses"


OF_GROUP: Mapping[PartGroup, ViewLayer] = {group: ViewLayer(group.value) for group in PartGroup}
"""The layer of each group of parts; they share their names."""

LAYER_COLOURS: Mapping[ViewLayer, Rgb] = {
    **{layer: GROUP_COLOURS[group] for group, layer in OF_GROUP.items()},
    ViewLayer.UNITS: OKABE_ITO["black"],
    ViewLayer.FASTENERS: OKABE_ITO["black"],
    ViewLayer.HARDWARE: OKABE_ITO["black"],
    ViewLayer.INSULATION: OKABE_ITO["yellow"],
}
"""Units, nails and hardware share black: they are told apart by shape, as frames, dots and cubes. Trusses stand apart
from insulation, with which they share yellow."""

MARK_COLOUR: Rgb = OKABE_ITO["vermillion"]
"""Spots of findings and the parts involved."""

HIDDEN_AT_FIRST = (ViewLayer.INSULATION,)
"""Insulation fills every bay and would hide the sticks."""
