"""One colour for each group of parts, told apart by colour-blind people too.

The set is M. Okabe and K. Ito, "Color Universal Design (CUD): How to make figures and presentations
that are friendly to colorblind people", University of Tokyo, 2002, revised 2008; reprinted as figure 2
of B. Wong, "Points of view: Color blindness", Nature Methods 8, 441 (2011). Values are 8-bit sRGB.
"""

from __future__ import annotations

from collections.abc import Mapping

from panelgen.model.groups import PartGroup

__all__ = ["GROUP_COLOURS", "OKABE_ITO", "Rgb"]

Rgb = tuple[int, int, int]

OKABE_ITO: Mapping[str, Rgb] = {
    "black": (0, 0, 0),
    "orange": (230, 159, 0),
    "sky blue": (86, 180, 233),
    "bluish green": (0, 158, 115),
    "yellow": (240, 228, 66),
    "blue": (0, 114, 178),
    "vermillion": (213, 94, 0),
    "reddish purple": (204, 121, 167),
}

GROUP_COLOURS: Mapping[PartGroup, Rgb] = {
    PartGroup.OUTER_SHEATHING: OKABE_ITO["bluish green"],
    PartGroup.FRAMING: OKABE_ITO["orange"],
    PartGroup.INNER_SHEATHING: OKABE_ITO["blue"],
    PartGroup.STRAPPING: OKABE_ITO["sky blue"],
    PartGroup.SERVICES: OKABE_ITO["reddish purple"],
    PartGroup.TRUSSES: OKABE_ITO["yellow"],
}
"""Groups that lie on one another differ in lightness (by 8 or more in CIE L*) as well as in hue.

Vermillion is kept for marks.
"""
