"""Which joint of the nailing schedule two sticks make, by what a carpenter calls them, and its nails."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from panelgen.catalog import Catalog, Fastener, JointNailing, RuleSet
from panelgen.design.fastening.elevation import role_code
from panelgen.design.fastening.lines import Kind
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import Role

__all__ = ["ABREAST", "END_ON", "JOINTS", "NO_JOINT", "STACKED", "Schedule", "joint_code", "schedule_of"]

JOINTS = (
    "bottom plate to stud",
    "top plate to stud",
    "cripple to plate",
    "cripple to header",
    "header to king",
    "sill to jack",
    "head plate to stud",
    "blocking to stud",
    "blocking in line",
    "king to jack",
    "corner studs",
    "double studs",
    "header plies",
    "plate to header",
    "cap plate to top plate",
    "cap plate splice",
    "cap plate splice from the left",
    "strap to stud",
    "strap along stick",
    "joist to rim",
    "joist to header",
    "header to trimmer",
    "joist plies",
    "blocking to joist",
)
"""Joints by the names of their rows in the schedule; the place of a name is its code."""

_ROWS = {"cap plate splice from the left": "cap plate splice"}
"""Joints that have no row of their own: the loose piece that comes with the panel on the left, nailed to this one."""

NO_JOINT = -1

_ON_SITE = ("cap plate splice", "cap plate splice from the left")
"""Joints that the crew nails."""

_FULL = (Role.STUD, Role.POST, Role.KING)
_UPRIGHT = (*_FULL, Role.JACK, Role.CRIPPLE)
_JOISTS = (Role.JOIST, Role.TRIMMER)
_BLOCKS = (Role.BLOCKING, Role.BACKING)
_PLATES = (Role.BOTTOM_PLATE, Role.TOP_PLATE, Role.SILL, Role.HEAD_PLATE)


def joint_code(key: str) -> int:
    """The code of a joint."""
    return JOINTS.index(key)


def _table(*rules: tuple[Iterable[Role], Iterable[Role], str]) -> Ints:
    """(roles, roles) joint code for a first and a second role; later rules win."""
    table = np.full((len(Role), len(Role)), NO_JOINT, dtype=np.int64)
    for first, second, key in rules:
        columns = [role_code(role) for role in second]
        for role in first:
            table[role_code(role), columns] = joint_code(key)
    return table


END_ON = _table(
    ((*_FULL, Role.JACK), (Role.BOTTOM_PLATE,), "bottom plate to stud"),
    ((*_FULL, Role.JACK), (Role.TOP_PLATE,), "top plate to stud"),
    ((Role.JACK,), (Role.HEAD_PLATE,), "head plate to stud"),
    ((Role.CRIPPLE,), _PLATES, "cripple to plate"),
    ((Role.CRIPPLE,), (Role.HEADER,), "cripple to header"),
    ((Role.HEADER,), _FULL, "header to king"),
    ((Role.SILL,), _UPRIGHT, "sill to jack"),
    ((Role.HEAD_PLATE,), _UPRIGHT, "head plate to stud"),
    (_BLOCKS, _UPRIGHT, "blocking to stud"),
    ((*_JOISTS, Role.RIM), (Role.RIM,), "joist to rim"),
    (_JOISTS, (Role.HEADER,), "joist to header"),
    ((Role.HEADER,), _JOISTS, "header to trimmer"),
    (_BLOCKS, (*_JOISTS, Role.RIM), "blocking to joist"),
)
"""The joint where an end of the first stick meets the side of the second."""

ABREAST = _table(
    (_UPRIGHT, _UPRIGHT, "double studs"),
    ((Role.POST,), _UPRIGHT, "corner studs"),
    (_UPRIGHT, (Role.POST,), "corner studs"),
    ((Role.KING,), (Role.JACK,), "king to jack"),
    ((Role.JACK,), (Role.KING,), "king to jack"),
    ((*_JOISTS, Role.RIM), (*_JOISTS, Role.RIM), "joist plies"),
)
"""The joint of two uprights side by side."""

STACKED = _table(
    ((Role.TOP_PLATE,), (Role.CAP_PLATE,), "cap plate to top plate"),
    ((Role.HEAD_PLATE,), (Role.HEADER,), "plate to header"),
    ((Role.HEADER,), (Role.TOP_PLATE,), "plate to header"),
    ((Role.HEADER,), (Role.HEADER,), "header plies"),
)
"""The joint of two sticks that lie along one another, the first under the second."""


@dataclass(frozen=True, slots=True, eq=False)
class Schedule:
    """The nailing of every joint by its code: the kind of its nails, and arrays (joints,); lengths are mm."""

    kinds: tuple[Kind, ...]
    count: Ints
    spacing: Floats
    length: Floats
    toe: Bools


@lru_cache(maxsize=8)
def schedule_of(rules: RuleSet, catalog: Catalog) -> Schedule:
    """The schedule of a rule set. Raises CatalogError where it lacks a joint."""
    rows = tuple(rules.joint(_ROWS.get(joint, joint)) for joint in JOINTS)
    fasteners = tuple(catalog.fastener(row.fastener) for row in rows)
    return Schedule(
        tuple(_kind(*joint) for joint in zip(JOINTS, rows, fasteners, strict=True)),
        np.array([row.count for row in rows]),
        np.array([row.spacing for row in rows]),
        np.array([fastener.length for fastener in fasteners]),
        np.array([row.manner == "toe" for row in rows]),
    )


def _kind(joint: str, row: JointNailing, fastener: Fastener) -> Kind:
    if row.spacing:
        lines = f" in each of {row.count} lines" if row.count > 1 else ""
        words = f"{fastener.name} every {row.spacing:.0f} mm or less{lines}"
    else:
        words = f"{row.count} {fastener.name} to a joint"
    return Kind(joint, fastener, words, row.cited, on_site=joint in _ON_SITE)
