"""Plants faults in random walls one after the other, and asks the checks for them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from panelgen.catalog import Catalog
from panelgen.checks import CODES, check_house
from panelgen.model import Finding, House, Severity
from tests.checks.faults import at_joints, in_layers, in_nails, in_runs, in_sticks, in_wood
from tests.checks.faults.clean import clean_house
from tests.checks.faults.registry import JOINED, KINDS, Case
from tests.checks.faults.walls import Wall, random_wall

__all__ = ["KINDS", "clean_houses", "false_reports", "is_found", "planted", "planted_in"]

_ROOMS = (in_wood, in_runs, in_layers, in_sticks, in_nails, at_joints)
"""Every module that registers kinds."""
_TRIES = 400
_WALLS = 12
_CASES_PER_WALL = 8


@dataclass
class _Walls:
    """Random walls, each used for some cases; the last ones are kept for faults that want a wall of their kind."""

    rng: np.random.Generator
    panels: int
    kept: list[Wall]
    used: int = 0

    def next(self) -> Wall:
        """A wall: a new one every few cases, until then one of those kept."""
        if self.used % _CASES_PER_WALL == 0 or not self.kept:
            self.kept = [*self.kept[-_WALLS + 1 :], random_wall(self.rng, panels=self.panels)]
        self.used += 1
        return self.kept[int(self.rng.integers(0, len(self.kept)))]


def planted(seed: int, count: int) -> Iterator[tuple[str, Case]]:
    """`count` faults, kind after kind in turn, with the name of each kind."""
    rng = np.random.default_rng(seed)
    single, row = _Walls(rng, 1, []), _Walls(rng, 2, [])
    names = list(KINDS)
    for number in range(count):
        name = names[number % len(names)]
        walls = row if name in JOINED else single
        case = next(filter(None, (planted_in(walls.next(), name, rng) for _ in range(_TRIES))), None)
        if case is None:
            raise LookupError(f"no wall in {_TRIES} has a place for: {name}")
        yield name, case


def planted_in(wall: Wall, name: str, rng: np.random.Generator) -> Case | None:
    """A fault of that kind in the wall; None where it has no place for it."""
    return KINDS[name](rng, wall)


def clean_houses(seed: int, count: int) -> Iterator[House]:
    """`count` walls without a fault."""
    rng = np.random.default_rng(seed)
    walls = _Walls(rng, 1, [])
    for _ in range(count):
        yield clean_house(rng, walls.next())


def is_found(case: Case) -> bool:
    """Whether the checks tell of the fault."""
    return any(found.code == case.code and case.part in found.parts for found in _findings(case.house))


def false_reports(house: House) -> list[Finding]:
    """What the checks say of a house without a fault: anything of theirs, and anything that stops it.

    That a single wall does not close the barriers of a house is true of it, and no fault.
    """
    told = [one for one in _findings(house) if one.code not in ("air.unclosed", "weather.unclosed")]
    return [one for one in told if one.code in CODES or one.severity is Severity.STOP]


def _findings(house: House) -> tuple[Finding, ...]:
    return check_house(house, Catalog.default())
