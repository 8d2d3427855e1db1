"""Supplied trusses in the view: rows beside the panels, whose trusses can be picked and tell what they are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.envelope.setting import setting_order
from panelgen.model import House, PanelKind, Truss
from panelgen.model.truss_bodies import truss_volume
from panelgen.view import house_payload
from panelgen.view.payload import kernel_packer
from tests.factories import small_house
from tests.model.trusses import truss_row
from tests.view import reading


def trussed(count: int = 3) -> House:
    return replace(small_house(2), trusses=truss_row(count))


def told(truss: Truss) -> dict[str, object]:
    return {
        "id": truss.id, "kind": "truss", "what": "supplied truss", "layer": "supplied trusses", "mass": truss.mass,
        "stock": "walls A and B", "sizes": [truss.span, 1500.0], "of": "T1",
        "why": [truss.why.rule, truss.why.words, truss.why.source],
    }  # fmt: skip


def test_a_row_comes_after_the_panels_and_tells_of_each_truss() -> None:
    house = trussed()
    payload = house_payload(house)
    assert list(payload.panels)[-1] == "trusses T1"
    rows = reading.parts(payload, "trusses T1")
    assert [{key: row[key] for key in told(house.trusses[0])} for row in rows] == list(map(told, house.trusses))
    head = payload.panels["trusses T1"]
    assert (head["kind"], head["mass"]) == ("supplied trusses", 150.0)
    assert head["depth"] == pytest.approx((-19.0, 1219.0))


def test_trusses_are_drawn_as_big_as_in_the_exports() -> None:
    house = trussed()
    volumes = reading.volumes(house_payload(house), "trusses T1")
    assert volumes == pytest.approx({n: truss_volume(truss) for n, truss in enumerate(house.trusses)}, rel=1e-6)


def test_a_house_without_trusses_has_no_layer_of_them() -> None:
    def names(house: House) -> list[str]:
        return [layer["name"] for layer in house_payload(house).house["layers"]]

    assert set(names(trussed())) - set(names(small_house(2))) == {"supplied trusses"}


def test_a_house_is_told_in_the_order_in_which_its_panels_are_set() -> None:
    house = small_house(3)
    last, *others = house.panels
    house = replace(house, panels=(replace(last, kind=PanelKind.CEILING), *others))
    packer = kernel_packer()
    assert list(house_payload(house, (), packer).panels) == [panel.label for panel in setting_order(house)]
    assert list(house_payload(house, (), packer).panels)[-1] == last.label
