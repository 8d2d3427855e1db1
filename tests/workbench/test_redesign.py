"""What is redone after a change is what a design and a check from scratch give, and no more is redone than need be."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from panelgen.checks import check_house, check_panels
from panelgen.design import design
from panelgen.workbench import Session
from tests.workbench.examples import FAULTY, SPACING

EDITS: list[tuple[tuple[str | int, ...], Any]] = [
    (("openings", 0, "center"), "34 in"),
    (("openings", 0, "sill"), 20),
    (("runs", 7, "path", 0, 1), 19),
    (("runs", 0, "path", 0, 1), "22 in"),
    (("boxes", 0, "at", 0), 100),
    (("unit_types", "casement-30x48", "width"), 34),
    (("assemblies", "partition", "layers", 0, "spacing"), 16),
    (("levels", 0, "outlines", 0, "corners", 1, "bearing"), False),
    (("levels", 1, "height"), "96 in"),
    (SPACING, 16),
    (("assemblies", "exterior", "layers", 2, "product"), "osb-1/2"),
    (("shop", "shortest_member"), 6),
]


pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def session() -> Session:
    """The faulty house."""
    return Session.open(FAULTY)


@pytest.mark.parametrize(("path", "value"), EDITS, ids=lambda value: value[0] if isinstance(value, tuple) else None)
def test_after_an_edit_all_is_as_made_anew(session: Session, path: tuple[str | int, ...], value: object) -> None:
    session.edit(path, value)
    try:
        house = design(session.spec, session.design.catalog)
        assert session.findings == check_house(house, session.design.catalog)
        assert session.house.assumptions == house.assumptions
        assert [panel.label for panel in session.house.panels] == [panel.label for panel in house.panels]
        for mine, fresh in zip(session.house.panels, house.panels, strict=True):
            assert (mine.members, mine.sheets, mine.runs) == (fresh.members, fresh.sheets, fresh.runs)
            assert (mine.bays, mine.boxes, mine.fittings) == (fresh.bays, fresh.boxes, fresh.fittings)
            assert [(row.id, len(row)) for row in mine.fasteners] == [(row.id, len(row)) for row in fresh.fasteners]
    finally:
        session.undo()


@pytest.mark.parametrize(("path", "value"), EDITS[:8], ids=lambda value: value[0] if isinstance(value, tuple) else None)
def test_a_quick_look_sees_all_that_is_in_the_panels_redone(
    session: Session, path: tuple[str | int, ...], value: object
) -> None:
    old = session.findings
    change = session.edit(path, value, quick=True)
    try:
        quick = Counter(session.findings)
        panels = [panel for panel in session.house.panels if panel.label in change.redone]
        assert not Counter(check_panels(panels, session.house, session.design.catalog)) - quick
        assert {finding.panel for finding in (quick - Counter(old))} <= change.redone
        session.settle()
        assert session.findings == check_house(session.house, session.design.catalog)
        assert not session.settle()
    finally:
        session.undo()


def test_an_opening_concerns_its_panel_alone(session: Session) -> None:
    change = session.edit(("openings", 0, "center"), "34 in")
    session.undo()
    assert change.redone == {"1W01"}


def test_another_spacing_leaves_other_assemblies(session: Session) -> None:
    change = session.edit(("assemblies", "partition", "layers", 0, "spacing"), 16)
    session.undo()
    assert change.redone
    assert {label[1] for label in change.redone} == {"P"}
