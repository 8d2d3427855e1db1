"""Heat through panels and houses: what goes in, what comes out, and how it is printed."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from panelgen import api
from panelgen.catalog import Catalog
from panelgen.catalog.thermal import M2K_PER_FT2HF
from panelgen.design.house import design
from panelgen.errors import BadValueError, CatalogError
from panelgen.model import House, Panel
from panelgen.plans.thermal import HouseThermal, house_thermal, panel_thermal, thermal_json, thermal_text
from tests.design.houses import one_wall

CATALOG = Catalog.default()
WINDOW = {"id": "W1", "type": "window-60x48", "center": "6 ft", "sill": "31-1/2 in"}


@pytest.fixture(scope="module")
def house() -> House:
    return design(one_wall("24 ft", [WINDOW], shop={"line_length": "12 ft"}))


@pytest.fixture(scope="module")
def report(house: House) -> HouseThermal:
    return house_thermal(house, CATALOG)


def test_a_panel_by_hand() -> None:
    """A panel without a window, its sections written out: wood or cellulose, strap or air, all shares measured."""
    house = design(one_wall("24 ft"))
    (one,) = house.panels
    found = panel_thermal(one, house, CATALOG)
    k = {name: CATALOG.thermal.conductivity(name).conductivity for name in ("softwood", "osb", "dense-pack-cellulose")}
    straps = sum(m.length * m.width for m in one.members if m.layer == "strapping") / (found.area * 1e6)
    board = 0.5 * 0.0254 / CATALOG.thermal.conductivity("gypsum-1/2").conductivity
    skin = 7 / 16 * 0.0254 / k["osb"]
    depth = 0.1397
    air = 0.18
    upper = 0.0
    empty = found.unfilled
    parts = {
        depth / k["softwood"]: found.framing,
        depth / k["dense-pack-cellulose"]: 1 - found.framing - empty,
        air: empty,
    }
    for middle, share in parts.items():
        for space, part in ((0.0381 / k["softwood"], straps), (air, 1 - straps)):
            upper += share * part / (0.04 + skin + middle + skin + space + board + 0.13)
    assert found.iso.upper == pytest.approx(1 / upper, rel=2e-3)
    assert found.iso.lower < found.iso.upper
    assert found.parallel.parallel_transmittance == pytest.approx(1 / found.parallel.upper)


def test_means_are_weighted_by_area(report: HouseThermal) -> None:
    total = sum(one.area for one in report.panels)
    assert report.area == pytest.approx(total)
    assert report.transmittance == pytest.approx(sum(one.iso.transmittance * one.area for one in report.panels) / total)
    assert report.framing == pytest.approx(sum(one.framing * one.area for one in report.panels) / total)


def test_areas_add_up_to_the_wall(house: House, report: HouseThermal) -> None:
    face = sum(one.length * one.height for one in house.panels) * 1e-6
    assert sum(one.area + one.opening_area for one in report.panels) == pytest.approx(face)


def test_more_wood_lets_more_through(report: HouseThermal) -> None:
    ordered = sorted(report.panels, key=lambda one: one.framing)
    assert [one.iso.transmittance for one in ordered] == sorted(one.iso.transmittance for one in ordered)


def bare(one: Panel) -> Panel:
    return replace(one, bays=())


def test_an_empty_wall(house: House) -> None:
    """Without insulation the framing layer is an air space between sticks."""
    full, empty = (panel_thermal(one, house, CATALOG) for one in (house.panels[-1], bare(house.panels[-1])))
    assert empty.iso.transmittance > 2 * full.iso.transmittance
    assert empty.unfilled == pytest.approx(1 - empty.framing)


def test_a_product_without_a_conductivity(house: House) -> None:
    one = house.panels[0]
    odd = replace(one, layers=(replace(one.layers[0], product="cork"), *one.layers[1:]))
    with pytest.raises(CatalogError, match="cork"):
        panel_thermal(odd, house, CATALOG)


def test_values_from_memory_are_marked(report: HouseThermal) -> None:
    assert all(one.unverified for one in report.panels)
    assert any(source.endswith("(unverified)") for source in report.sources)
    assert "unverified" in thermal_text(report)


def test_text_has_a_line_for_each_panel_and_the_whole(report: HouseThermal) -> None:
    lines = thermal_text(report).splitlines()
    assert [line.split()[0] for line in lines[1 : len(report.panels) + 2]] == [
        *(one.label for one in report.panels),
        "all",
    ]
    assert float(lines[len(report.panels) + 1].split()[-1]) == pytest.approx(
        1 / report.parallel_transmittance / M2K_PER_FT2HF, abs=0.05
    )


def test_json(report: HouseThermal) -> None:
    data = json.loads(thermal_json(report))
    assert [row["panel"] for row in data["panels"]] == [one.label for one in report.panels]
    assert data["house"]["iso_6946_u_w_m2k"] == report.transmittance
    assert data["panels"][0]["iso_6946"]["lower_m2k_w"] == report.panels[0].iso.lower


def test_some_panels(house: House) -> None:
    assert [one.label for one in api.thermal(house, ["1W01"]).panels] == ["1W01"]
    with pytest.raises(BadValueError, match="9W99"):
        api.thermal(house, ["9W99"])


def test_a_house_of_partitions_has_no_shell() -> None:
    empty = api.thermal(design(one_wall("12 ft", assembly="bare", wall={"exterior": False})))
    assert (empty.area, empty.transmittance, empty.panels) == (0.0, 0.0, ())
    assert thermal_text(empty).startswith("panel")
