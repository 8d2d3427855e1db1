"""Bodies of supplied trusses."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from panelgen.model import truss_rows
from panelgen.model.truss_bodies import truss_body, truss_frame, truss_volume
from tests.model.trusses import OUTLINE, truss_row


def test_the_body_is_the_outline_less_what_is_between_the_chords() -> None:
    (truss,) = truss_row(1)
    (loft,) = truss_body(truss).lofts
    outer, hollow = map(shapely.Polygon, loft.near)
    assert outer.area == pytest.approx(shapely.Polygon(OUTLINE).area)
    assert outer.boundary.distance(hollow) == pytest.approx(90.0)
    assert hollow.bounds[1] == pytest.approx(90.0)
    assert truss_volume(truss) == pytest.approx((outer.area - hollow.area) * 38.0)


def test_a_truss_too_low_for_two_chords_is_solid() -> None:
    (truss,) = truss_row(1)
    low = replace(truss, outline=((0.0, 0.0), (6000.0, 0.0), (3000.0, 150.0)))
    assert truss_volume(low) == pytest.approx(6000.0 * 150.0 / 2 * 38.0)


def test_the_body_stands_about_the_middle_of_the_truss() -> None:
    (truss,) = truss_row(1)
    assert truss_frame(truss).point(0.0, 0.0, 19.0) == pytest.approx(truss.frame.origin)


def test_rows_are_told_apart() -> None:
    row = truss_row(3)
    other = replace(row[0], id="T2-01", row="T2")
    assert list(truss_rows((*row, other))) == [row, (other,)]
