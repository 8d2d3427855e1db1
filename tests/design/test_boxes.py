"""Boxes know what they hold and what is in them: NEC 314.16 in a public reproduction."""

from __future__ import annotations

from typing import Any

import pytest

from panelgen.design import design
from panelgen.model import Box
from tests.design.houses import one_wall

CUBIC_INCH = 25.4**3


def placed(product: str, **fields: Any) -> Box:
    box = {"id": "B1", "wall": "N1", "product": product, "at": ["3 ft", "18 in"]} | fields
    ((made,),) = [panel.boxes for panel in design(one_wall("8 ft", boxes=[box])).panels]
    return made


def test_the_worked_example_fills_its_box_to_the_brim() -> None:
    """Two 12-2 cables with grounds, a receptacle and clamps: 18.0 in3 in a box of 18.0 in3."""
    fill = {"wires": [{"gauge": 12, "count": 2}, {"gauge": 12, "count": 2}]}
    box = placed("device-3x2x3-1/2", fill=fill)
    assert box.fill == pytest.approx(18.0 * CUBIC_INCH)
    assert box.volume == pytest.approx(18.0 * CUBIC_INCH)


def test_what_is_not_said_takes_no_room() -> None:
    box = placed("square-4x1-1/4", back="1/4 in")
    assert (box.fill, box.kind) == (0.0, "device")
    assert box.back == pytest.approx(6.35)


def test_a_manifold_is_a_box_too() -> None:
    box = placed("manifold-12x16", at=["3 ft", "3 ft"])
    assert box.kind == "manifold"
    assert box.size == pytest.approx((12 * 25.4, 16 * 25.4, 3.5 * 25.4))
