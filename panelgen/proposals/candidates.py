"""What could be tried for a finding, cheapest first: moves of its runs, and of its boxes."""

from __future__ import annotations

from panelgen.model import Finding, Panel
from panelgen.proposals.box_moves import box_moves
from panelgen.proposals.courses import course_of
from panelgen.proposals.options import Option
from panelgen.proposals.run_moves import Manner, run_moves
from panelgen.proposals.standing import Standing

__all__ = ["options_for"]


def options_for(standing: Standing, panel: Panel, finding: Finding, manner: Manner = "straight") -> list[Option]:
    """Every option for a finding in a panel, by how far anything moves, then by how many parts and points do.

    Other manners than ``straight`` are only for runs.
    """
    boxes = {box.id: place for place, box in enumerate(standing.spec.boxes)}
    options: list[Option] = []
    for part in dict.fromkeys(finding.parts):
        course = course_of(standing, part)
        if course is not None:
            options += run_moves(standing, panel, finding, course, manner)
        elif part in boxes and manner == "straight":
            options += box_moves(standing, boxes[part])
    distinct: dict[tuple[object, ...], Option] = {}
    for option in sorted(options, key=lambda option: (option.distance, option.parts, option.points)):
        distinct.setdefault(option.changes, option)
    return list(distinct.values())
