"""Panels of any roof meet exactly: no overlap, no gap, each convex and within the line; checked by another kernel."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import manifold3d
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.catalog import Catalog
from panelgen.checks.extents import part_outside, sheet_sheet
from panelgen.checks.fastening import fastener_edge, fastener_miss
from panelgen.checks.holes.notching import notching
from panelgen.checks.scene import Scene
from panelgen.checks.shanks import Shanks
from panelgen.checks.shell.shared_space import panel_panel
from panelgen.checks.shell.standing import Standing
from panelgen.checks.sticks import member_member, member_shape
from panelgen.design.roofs.assign import roof_briefs, slopes_of
from panelgen.design.roofs.panel import design_roof_panel
from panelgen.design.roofs.planes import planes_of
from panelgen.errors import GeometryError
from panelgen.model import Panel
from tests.design.roofs.bodies import overlap, panel_solid, stick_solid
from tests.design.roofs.houses import BOX, ELL, TEE, house_of, panels_of, roofs_of, spec_of

CATALOG = Catalog.default()
RULES = CATALOG.rules("irc-2021")


def faults(panels: Sequence[Panel]) -> list[tuple[str, str, tuple[str, ...]]]:
    """What does not fit: sticks, sheets and nails of panels, and panels against one another."""
    scene = Scene.of(panels)
    shanks = Shanks.of(panels)
    findings = [
        *member_member(scene),
        *member_shape(scene),
        *part_outside(scene),
        *sheet_sheet(scene),
        *notching(scene, RULES),
        *fastener_miss(scene, shanks),
        *fastener_edge(scene, shanks, RULES, CATALOG),
        *panel_panel(Standing.of(scene)),
    ]
    return [(f.code, f.panel, f.parts) for f in findings]


@pytest.mark.parametrize("rise", [3, 6, 12])
@pytest.mark.parametrize("ring", [BOX, ELL, TEE])
def test_hip_roofs_on_their_walls_have_no_fault_of_fit(ring: list[tuple[float, float]], rise: float) -> None:
    assert faults(house_of(ring, f"rise: {rise} in").panels) == []


@pytest.mark.parametrize("degrees", [30, -77, 200])
def test_a_turned_house_is_the_same_house(degrees: float) -> None:
    turn = np.exp(1j * np.radians(degrees))
    ring = [((x + 1j * y) * turn, n) for n, (x, y) in enumerate(TEE)]
    turned = panels_of([(place.real, place.imag) for place, _ in ring], "rise: 7 in")
    straight = panels_of(TEE, "rise: 7 in")
    assert faults(turned) == []
    assert [[m.id for m in p.members] for p in turned] == [[m.id for m in p.members] for p in straight]
    for a, b in zip(turned, straight, strict=True):
        assert [m.length for m in a.members] == pytest.approx([m.length for m in b.members], abs=1e-5)


@pytest.mark.parametrize(
    "edges",
    [
        "{edge: w1, rise: 9 in}, {edge: w3, rise: 9 in}",
        "{edge: w0, rise: 5 in}, {edge: w1, rise: 12 in}, {edge: w3, rise: 8 in}",
        "{edge: w1, kind: gable}, {edge: w2, rise: 10 in}, {edge: w3, kind: gable}",
    ],
)
def test_unequal_slopes_over_a_rectangle_fit(edges: str) -> None:
    panels = panels_of(BOX, f"rise: 6 in, edges: [{edges}]")
    assert faults(panels) == []
    solids = [panel_solid(panel) for panel in panels]
    assert max(overlap(a, b) for a, b in combinations(solids, 2)) < 1.0


def test_no_solid_of_an_ell_shares_space_with_another() -> None:
    """Every stick against every other of its panel, and panels against each other, walls too."""
    house = house_of(ELL, "rise: 6 in, edges: [{edge: w1, kind: gable}]")
    for panel in roofs_of(house):
        solids = [stick_solid(member, panel) for member in panel.members]
        assert all(solid.volume() > 0.0 for solid in solids)
        boxes = [np.array(solid.bounding_box()) for solid in solids]
        for i, j in combinations(range(len(solids)), 2):
            if (boxes[i][:3] < boxes[j][3:]).all() and (boxes[j][:3] < boxes[i][3:]).all():
                assert overlap(solids[i], solids[j]) < 1.0, (panel.members[i].id, panel.members[j].id)
    roofs = [panel_solid(panel) for panel in roofs_of(house)]
    for a, b in combinations(roofs, 2):
        assert overlap(a, b) < 5.0


def test_blocks_stop_at_rafters_that_an_opening_cuts() -> None:
    opening = "openings: [{id: K, edge: w0, at: [5000, 1800], size: [1500, 1200]}]"
    assert faults(panels_of(BOX, f"rise: 6 in, edges: [{{edge: w1, kind: gable}}], {opening}")) == []


STEP = st.integers(5, 14).map(lambda n: 600.0 * n)


@st.composite
def outlines(draw: st.DrawFn) -> list[tuple[float, float]]:
    """Rectangles, L, T and U plans."""
    width, depth = draw(STEP), draw(STEP)
    shape = shapely.box(0.0, 0.0, width, depth)
    kind = draw(st.sampled_from(["box", "ell", "tee", "cup"]))
    wing, out = draw(STEP), draw(STEP)
    at = draw(st.integers(0, 4)) * 600.0
    if kind == "ell":
        shape |= shapely.box(0.0, 0.0, min(wing, width - 600.0), depth + out)
    elif kind == "tee":
        shape |= shapely.box(at, -out, at + wing, depth)
    elif kind == "cup":
        shape |= shapely.box(0.0, 0.0, wing, depth + out)
        shape |= shapely.box(wing + 2400.0 + at, 0.0, 2 * wing + 2400.0 + at, depth + out)
        shape |= shapely.box(0.0, 0.0, 2 * wing + 2400.0 + at, depth)
    shape = shape if shape.geom_type == "Polygon" else shape.geoms[0]
    ring = shapely.geometry.polygon.orient(shape.simplify(0.0)).exterior.coords[:-1]
    return [(float(x), float(y)) for x, y in ring]


@pytest.mark.slow
@settings(max_examples=15)
@given(outlines(), st.sampled_from([3, 5, 8, 12]), st.sampled_from([0, 150, 305, 600]), st.data())
def test_any_roof_fits(ring: list[tuple[float, float]], rise: int, overhang: int, data: st.DataObject) -> None:
    gables = data.draw(st.lists(st.integers(0, len(ring) - 1), unique=True, max_size=3))
    edges = ", ".join(f"{{edge: w{n}, kind: gable}}" for n in gables)
    roof = f"rise: {rise} in, overhang: {overhang}, edges: [{edges}]"
    spec = spec_of(ring, roof)
    try:
        slopes, _ = slopes_of(spec, CATALOG, RULES)
    except GeometryError:
        assert gables
        return
    briefs, _, notes = roof_briefs(spec, slopes, CATALOG, RULES, {})
    panels = sum(_area([side.start for side in brief.sides]) for brief in briefs)
    planes, _ = planes_of(spec, spec.roofs[0], CATALOG, RULES)
    whole = sum(_area([side.start for side in plane.sides]) for plane in planes)
    left_out = [f for f in notes if f.code == "roof.strip"]
    assert panels == pytest.approx(whole, rel=1e-9) or (left_out and panels < whole)
    assert faults([design_roof_panel(brief) for brief in briefs]) == []


def _area(ring: list[tuple[float, float]]) -> float:
    return float(shapely.Polygon(ring).area)


def test_random_panels_share_no_volume() -> None:
    """A roof with every kind of line, panel against panel, by another kernel."""
    house = house_of(TEE, "rise: 8 in, edges: [{edge: w2, kind: gable}, {edge: w5, kind: gable}]")
    roofs = [panel_solid(panel) for panel in roofs_of(house)]
    assert all(isinstance(solid, manifold3d.Manifold) and solid.volume() > 0.0 for solid in roofs)
    assert max(overlap(a, b) for a, b in combinations(roofs, 2)) < 5.0
