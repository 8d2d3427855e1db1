"""Read, design, check, and narrow down to some panels."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design import design as design_house
from panelgen.errors import BadValueError
from panelgen.model import Finding, House, Panel
from panelgen.plans import InsulationCover, JointSchedule, Schedule, house_schedule, insulation_cover, joint_schedule
from panelgen.plans.thermal import HouseThermal, house_thermal
from panelgen.spec import HouseSpec
from panelgen.spec.loader import load as load_spec

if TYPE_CHECKING:
    from panelgen.intake import Intake

__all__ = ["about", "check", "design", "insulation", "joints", "load", "pick", "read_ifc", "schedule", "thermal"]


def load(path: Path | str) -> HouseSpec:
    """Read a house spec from a YAML or JSON file. Raises SpecError with every problem found."""
    return load_spec(path)


def design(spec: HouseSpec, catalog: Catalog | None = None) -> House:
    """Design every wall panel, by default from the shipped catalog with the spec's own products on top.

    What cannot be built as asked becomes a finding. Raises SpecError or CatalogError for bad input.
    """
    return design_house(spec, catalog)


def check(house: House, catalog: Catalog | None = None) -> tuple[Finding, ...]:
    """Every finding of a house, worst first: of its design, and of the checks against its rule set."""
    return check_house(house, catalog or Catalog.default())


def pick(house: House, labels: Sequence[str] = ()) -> tuple[Panel, ...]:
    """The panels with those labels, in the order of the house; all of them where no label is given.

    Raises BadValueError for a label that no panel has.
    """
    known = [panel.label for panel in house.panels]
    for label in labels:
        if label not in known:
            raise BadValueError(f"no panel is called {label!r}", f"choose from {', '.join(known)}")
    return tuple(panel for panel in house.panels if not labels or panel.label in labels)


def about(panels: Sequence[Panel], findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings about some panels, and those about the house as a whole."""
    labels = {"", *(panel.label for panel in panels)}
    return tuple(finding for finding in findings if finding.panel in labels)


def joints(house: House, catalog: Catalog | None = None) -> JointSchedule:
    """What meets where, what seals and fastens it, and how long the airtight line and the weather barrier are."""
    return joint_schedule(house, catalog or Catalog.default())


def schedule(house: House, labels: Sequence[str] = ()) -> Schedule:
    """Runs, fittings, boxes, sleeves, plates and supports of each panel, and in all; of some panels with `labels`.

    Raises BadValueError for a label that no panel has.
    """
    return house_schedule(house, pick(house, labels) if labels else None)


def thermal(house: House, labels: Sequence[str] = (), catalog: Catalog | None = None) -> HouseThermal:
    """Resistance and U of every panel of the shell and of the whole, from the framing that is there.

    By the combined method of ISO 6946 and by parallel paths; of some panels with `labels`. Raises BadValueError for a
    label that no panel has, CatalogError for a product of which no conductivity is known.
    """
    return house_thermal(house, catalog or Catalog.default(), pick(house, labels) if labels else None)


def insulation(house: House, labels: Sequence[str] = ()) -> InsulationCover:
    """What of each airtight panel is insulated, wood, too thin to fill, or bare; of some panels with `labels`.

    Raises BadValueError for a label that no panel has.
    """
    return insulation_cover(house, pick(house, labels) if labels else None)


def read_ifc(path: Path | str) -> Intake:
    """Read straight walls and their openings from an IFC2x3 or IFC4 file into a house spec to edit.

    Raises IntakeError where the file cannot be read, none of its walls can be taken, or the ``ifc`` extra
    is not installed.
    """
    from panelgen.intake import read_ifc as read

    return read(path)
