"""Assembled houses by another kernel: parts of two panels share no space, and a moved panel is seen."""

from __future__ import annotations

import numpy as np
import pytest

from panelgen.api import design, load
from tests.acceptance.house_assembled_fit import (
    EXAMPLE,
    Assembly,
    anywhere,
    checked,
    fit,
    toward_its_neighbour,
)
from tests.random_houses import random_house

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module", params=["example", 0, 2])
def house(request: pytest.FixtureRequest) -> Assembly:
    return Assembly.of(design(load(EXAMPLE) if request.param == "example" else random_house(request.param)).panels)


def test_no_two_parts_share_space(house: Assembly) -> None:
    found = fit(house.parts)
    assert found.pairs > 100
    assert found.shared == []
    assert checked(house.panels) == set()


def test_a_moved_panel_is_seen(house: Assembly) -> None:
    panel, by = toward_its_neighbour(house.panels, np.random.default_rng(1))
    there = house.with_moved(panel, by)
    found = fit(there.parts, panel.label)
    assert found.shared
    assert checked(there.panels) == found.panels


def test_the_checks_name_the_same_panels(house: Assembly) -> None:
    rng = np.random.default_rng(2)
    for _ in range(5):
        panel, by = anywhere(house.panels, rng)
        there = house.with_moved(panel, by)
        assert checked(there.panels) == fit(there.parts, panel.label).panels
