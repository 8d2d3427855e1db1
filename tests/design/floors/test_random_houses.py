"""Random houses with floors and ceilings: designed without error, nothing in the way of anything else."""

from __future__ import annotations

from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design.floors.fields import fields
from panelgen.design.house import design
from panelgen.model import PanelKind
from panelgen.spec import HouseSpec
from tests.design.floors.houses import Ring, floored, outlines

CLASHES = ("member.member", "member.shape", "panel.panel", "part.", "sheet.", "fastener.miss", "fastener.run", "nail.")
STOCKS = (
    {"stock": "2x10", "depth": 9.25 * 25.4, "spacing": 16 * 25.4},
    {"stock": "2x12", "depth": 11.25 * 25.4, "spacing": 12 * 25.4},
    {"stock": "i-11-7/8x2-1/2", "depth": 301.625, "spacing": 19.2 * 25.4},
    {"stock": "i-9-1/2", "depth": 241.3, "spacing": 24 * 25.4},
)


@st.composite
def houses(draw: st.DrawFn) -> HouseSpec:
    """A random outline with joists either way, a stair or shaft somewhere in it, and perhaps a ceiling."""
    ring: Ring = draw(outlines())
    x0, y0, x1, y1 = draw(st.sampled_from(fields(ring)))
    wide, long = (draw(st.integers(6, 12)) * 100.0 for _ in range(2))
    openings: list[dict[str, Any]] = []
    room_x, room_y = x1 - x0 - wide - 700.0, y1 - y0 - long - 700.0
    if room_x > 0.0 and room_y > 0.0 and draw(st.booleans()):
        at = [x0 + 350.0 + room_x * draw(st.integers(0, 10)) / 10, y0 + 350.0 + room_y * draw(st.integers(0, 10)) / 10]
        kind = draw(st.sampled_from(["stair", "shaft", "hatch"]))
        openings.append({"id": "H1", "at": at, "size": [wide, long], "kind": kind})
    return floored(
        ring,
        **draw(st.sampled_from(STOCKS)),
        joists=draw(st.sampled_from("xy")),
        openings=openings,
        ceiling=draw(st.sampled_from([None, {"joists": "x"}, {"joists": "y"}])),
    )


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(houses())
def test_random_houses_have_no_clash(spec: HouseSpec) -> None:
    house = design(spec)
    kinds = {panel.kind for panel in house.panels}
    assert PanelKind.FLOOR in kinds
    found = [finding for finding in check_house(house, Catalog.default()) if finding.code.startswith(CLASHES)]
    decks = {panel.label for panel in house.panels if panel.kind in (PanelKind.FLOOR, PanelKind.CEILING)}
    assert not [(finding.code, finding.panel, finding.words) for finding in found if finding.panel in decks]
