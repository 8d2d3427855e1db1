"""Random whole houses, designed and checked: none may raise, stop, overlap or leave its airtight line open.

Run with ``python -m tests.acceptance.house_random [--houses N] [--seed N]``. Prints the houses by plan and roof,
then the totals; exits 1 if a house fails.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter

from panelgen.api import check, design
from panelgen.catalog import Catalog
from panelgen.envelope.closing import closing
from panelgen.model import Barrier, Severity
from tests.random_houses import random_house, random_spec


def kind_of(seed: int) -> str:
    """Storeys, corners of the plan, and what closes the house at the top."""
    spec = random_spec(seed)
    corners = len(spec["levels"][0]["outlines"][0]["corners"])
    edges = spec["roofs"][0].get("edges", []) if "roofs" in spec else None
    shed = edges is not None and corners == 4 and len(edges) == 3
    top = "ceiling" if edges is None else "shed" if shed else "gables" if edges else "hips"
    return f"{corners} corners, {len(spec['levels'])} storeys, {top}"


def faults(seed: int) -> list[str]:
    """What is wrong with a house."""
    house = design(random_house(seed))
    found = [f"{one.code} {one.panel}: {one.words}" for one in check(house) if one.severity is Severity.STOP]
    gaps = closing(house, Barrier.AIR, Catalog.default()).open
    return [*found, *(f"the airtight line is open at {len(gaps.edge)} edges" for _ in gaps.edge[:1])]


def main() -> int:
    """Design, check and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--houses", type=int, default=200)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args()
    kinds, failed = Counter[str](), 0
    for seed in range(options.seed, options.seed + options.houses):
        kinds[kind_of(seed)] += 1
        wrong = faults(seed)
        failed += bool(wrong)
        for words in wrong[:3]:
            print(f"house {seed}: {words}")
    for kind, count in sorted(kinds.items()):
        print(f"{count:4d} with {kind}")
    print(f"{options.houses} houses, {failed} failures")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
