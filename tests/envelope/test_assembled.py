"""Assembled houses by another kernel: parts of two panels share no space, and a moved panel is seen."""

from __future__ import annotations

import numpy as np
import pytest

from panelgen.api import design, load
from panelgen.model import House
from tests.acceptance.house_assembled_fit import EXAMPLE, fit, one_moved
from tests.random_houses import random_house

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module", params=["example", 0, 2])
def house(request: pytest.FixtureRequest) -> House:
    return design(load(EXAMPLE) if request.param == "example" else random_house(request.param))


def test_no_two_parts_share_space(house: House) -> None:
    found = fit(house.panels)
    assert found.pairs > 100
    assert found.shared == []


def test_a_moved_panel_is_seen(house: House) -> None:
    assert fit(one_moved(house.panels, np.random.default_rng(1))).shared
