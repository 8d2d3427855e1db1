"""Groups of parts and their colours."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from panelgen.errors import GeometryError
from panelgen.model import Layer, LayerKind
from panelgen.model.groups import PartGroup, layer_groups
from panelgen.model.palette import GROUP_COLOURS, OKABE_ITO, Rgb
from tests.factories import FRAMING, INSIDE, OUTSIDE, STRAPS, wall_panel


def lightness(colour: Rgb) -> float:
    """CIE 1976 L* of an sRGB colour: IEC 61966-2-1 for the luminance, CIE 15 for L*."""
    linear = [level / 255 / 12.92 if level <= 10 else ((level / 255 + 0.055) / 1.055) ** 2.4 for level in colour]
    luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    return 116 * luminance ** (1 / 3) - 16


def test_layers_are_grouped_by_kind_and_side() -> None:
    assert layer_groups(wall_panel()) == {
        OUTSIDE.name: PartGroup.OUTER_SHEATHING,
        FRAMING.name: PartGroup.FRAMING,
        INSIDE.name: PartGroup.INNER_SHEATHING,
        STRAPS.name: PartGroup.STRAPPING,
    }


def test_a_sheet_inside_the_framing_is_refused() -> None:
    lost = Layer("lost", LayerKind.SHEATHING, "OSB", 50.0, 61.1)
    with pytest.raises(GeometryError, match="layer lost lies inside the framing"):
        layer_groups(replace(wall_panel(), layers=(FRAMING, lost)))


def test_every_group_has_a_colour_of_the_published_set_to_itself() -> None:
    assert set(GROUP_COLOURS) == set(PartGroup)
    assert len(set(GROUP_COLOURS.values())) == len(PartGroup)
    assert set(GROUP_COLOURS.values()) <= set(OKABE_ITO.values())


def test_groups_that_lie_on_one_another_differ_in_lightness() -> None:
    levels = [lightness(GROUP_COLOURS[group]) for group in PartGroup]
    assert min(abs(a - b) for a, b in pairwise(levels)) >= 8


def test_the_set_is_as_published() -> None:
    """Wong 2011, figure 2: the eight colours in 8-bit RGB, here as one hexadecimal word each."""
    words = {name: "{:02x}{:02x}{:02x}".format(*colour) for name, colour in OKABE_ITO.items()}
    assert words == {
        "black": "000000",
        "orange": "e69f00",
        "sky blue": "56b4e9",
        "bluish green": "009e73",
        "yellow": "f0e442",
        "blue": "0072b2",
        "vermillion": "d55e00",
        "reddish purple": "cc79a7",
    }
