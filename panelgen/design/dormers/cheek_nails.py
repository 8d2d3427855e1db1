"""Nails along the plates of a cheek that lie on one another."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil

from panelgen.catalog import RuleSet
from panelgen.design.roofs.sheet_lines import Rows
from panelgen.geometry.frames import Vec3
from panelgen.model import Member, Role

__all__ = ["plate_nails"]

_JOINT = "cap plate to top plate"

_FROM_END = 60.0
"""How far (mm) the first nail is from the end of a plate; common practice, no source."""

_ASIDE = 0.15
"""Nails alternate about the middle of the plate by this share of its width; common practice, no source."""


def plate_nails(members: Sequence[Member], rules: RuleSet) -> dict[str, Rows]:
    """The nails of each cap plate into the plate under it, by the name of their joint in the schedule."""
    plates = [n for n, member in enumerate(members) if member.role in (Role.CAP_PLATE, Role.TOP_PLATE)]
    plates.sort(key=lambda n: (members[n].role is Role.TOP_PLATE, members[n].id))
    row = rules.joint(_JOINT)
    nails: list[tuple[Vec3, Vec3, int, int]] = []
    for upper, lower in pairwise(plates):
        plate = members[upper]
        low = max(plate.end_x(plate.start, False, 0.0, z) for z in (0.0, plate.thickness)) + _FROM_END
        high = min(plate.end_x(plate.end, True, 0.0, z) for z in (0.0, plate.thickness)) - _FROM_END
        if high < low:
            continue
        count = max(2, ceil((high - low) / row.spacing) + 1)
        for number in range(count):
            y = plate.width * (0.5 + _ASIDE * (1 if number % 2 else -1))
            head = plate.frame.point(low + (high - low) * number / (count - 1), y, 0.0)
            nails.append((head, plate.frame.z, upper, lower))
    return {_JOINT: Rows.of(nails)} if nails else {}
