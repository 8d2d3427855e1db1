"""Sheet weights: public reproductions of the APA table of approximate panel weights, and a weights guide."""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.units import inches, parse_length, parse_mass

CATALOG = Catalog.default()


@pytest.mark.parametrize(
    ("name", "pounds", "within"),
    [
        ("osb-7/16", 46, 1.5),
        ("osb-3/8", 40, 0.1),
        ("osb-5/8", 66.6, 0.1),
        ("osb-3/4", 80, 0.1),
        ("plywood-1/2", 48, 0.1),
        ("gypsum-1/2", 51.2, 0.1),
        ("gypsum-5/8", 70.4, 0.1),
    ],
)
def test_weight_of_a_4_by_8_sheet(name: str, pounds: float, within: float) -> None:
    sheet = CATALOG.sheet(name)
    wide, long = sheet.sizes[0]
    assert (wide, long) == pytest.approx((inches(48), inches(96)))
    mass = sheet.density * sheet.thickness * wide * long * 1e-9
    assert mass == pytest.approx(parse_mass(f"{pounds} lb"), abs=parse_mass(f"{within} lb"))


@pytest.mark.parametrize("name", sorted(CATALOG.sheets))
def test_name_says_the_thickness_and_sizes_are_for_8_9_and_10_ft_walls(name: str) -> None:
    sheet = CATALOG.sheet(name)
    size = name.removesuffix("-mr").partition("-")[2]
    assert sheet.thickness == pytest.approx(parse_length(f"{size} in"))
    assert [length / inches(12) for _, length in sheet.sizes] == pytest.approx([8, 9, 10])
    assert 350 < sheet.density < 1000


def test_weights_from_memory_are_marked() -> None:
    assert CATALOG.sheet("plywood-3/4").unverified
    assert not CATALOG.sheet("osb-7/16").unverified
