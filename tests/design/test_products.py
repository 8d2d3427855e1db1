"""Any product of the catalog at its place in a house that is designed by itself: sizes meet, whatever they are."""

from __future__ import annotations

from pathlib import Path

import pytest

from panelgen.api import check, design
from panelgen.catalog import Catalog
from panelgen.model import Severity
from panelgen.spec import loads
from tests import specs

HERON = Path("examples/heron-house.yaml").read_text(encoding="utf-8")
WOOD = sorted(name for name, sheet in Catalog.default().sheets.items() if sheet.kind == "wood")


def stops(text: str) -> list[str]:
    return [finding.code for finding in check(design(loads(text))) if finding.severity is Severity.STOP]


@pytest.mark.parametrize("barrier", ["weather", "air"])
@pytest.mark.parametrize("product", WOOD)
def test_walls_take_any_sheathing(product: str, barrier: str) -> None:
    layer = f"product: osb-7/16, barrier: {barrier}"
    assert layer in specs.clean()
    assert stops(specs.clean().replace(layer, f"product: {product}, barrier: {barrier}")) == []


@pytest.mark.parametrize(
    ("was", "becomes"),
    [
        ("{layer: framing, stock: 2x12, spacing: 16", "{layer: framing, stock: 2x10, spacing: 12"),
        ("product: osb-23/32}", "product: osb-1-1/8}"),
        ("product: osb-23/32}", "product: plywood-19/32}"),
        (
            "{layer: framing, stock: 2x10, spacing: 16, insulation: dense",
            "{layer: framing, stock: 2x12, spacing: 16, insulation: dense",
        ),
        (
            "- {layer: framing, stock: 2x10, spacing: 16, insulation: null}",
            "- {layer: framing, stock: 2x12, spacing: 24, insulation: null}",
        ),
    ],
)
def test_the_house_stays_together_when_a_deck_changes(was: str, becomes: str) -> None:
    """Levels and roof rise and sink with the decks below them: nothing overlaps, gapes or leaks.

    The vent stack is left out: it stands where joists and rafters of the example's own spacing leave room for it.
    """
    assert was in HERON
    plain = "".join(line for line in HERON.splitlines(keepends=True) if "VS1" not in line)
    found = stops(plain.replace(was, becomes))
    assert [code for code in found if not code.startswith(("joist.", "panel.mass"))] == []
