"""The table of what covers the airtight panels: areas add up, and what is bare says why."""

from __future__ import annotations

import pytest

from panelgen.api import design, insulation
from panelgen.model import House
from panelgen.plans.insulation_cover import InsulationCover, cover_record, cover_text
from panelgen.spec.loader import loads
from tests import specs


def of(text: str) -> tuple[House, InsulationCover]:
    house = design(loads(text))
    return house, insulation(house)


def test_the_whole_is_the_sum_of_the_panels() -> None:
    house, cover = of(specs.clean())
    assert len(cover.rows) >= 4
    total = cover.total
    assert total.products == ("dense-pack-cellulose",)
    assert total.area == pytest.approx(sum(row.area for row in cover.rows))
    assert total.area == pytest.approx(total.insulated + total.wood + total.slivers + total.bare)
    assert total.insulated > 0.6 * total.area
    assert insulation(house, [cover.rows[1].label]).rows == (cover.rows[1],)


def test_what_is_bare_says_why() -> None:
    _, cover = of(specs.clean().replace("spacing: 24}", "spacing: 24, insulation: null}"))
    assert cover.total.insulated == 0.0
    assert cover.total.bare > 0.6 * cover.total.area
    assert {row.why for row in cover.rows} == {"its assembly asks for no insulation"}
    assert "its assembly asks for no insulation" in cover_text(cover)


def test_text_and_record_hold_every_panel() -> None:
    _, cover = of(specs.clean())
    record, lines = cover_record(cover), cover_text(cover).splitlines()
    assert [row["panel"] for row in record["panels"]] == [row.label for row in cover.rows]
    assert record["house"]["insulated_m2"] == pytest.approx(cover.total.insulated)
    assert [line.split()[0] for line in lines[1 : len(cover.rows) + 2]] == [*(row.label for row in cover.rows), "all"]


def test_no_airtight_panel_no_row() -> None:
    _, cover = of(specs.clean().replace("barrier: air", "barrier: none"))
    assert cover.rows == ()
    assert cover.total.area == 0.0
    assert "all" not in cover_text(cover)
