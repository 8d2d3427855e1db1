"""Ground truth for the checks: faults of many kinds planted in random panels, and random panels without a fault.

Run with ``python -m tests.acceptance.services_faults [--faults N] [--clean N] [--seed N]``. Prints per kind how
many were planted, found and missed, then the clean panels and false reports and, last, the totals. Exits 1 if
a fault was missed or a clean panel reported.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter

from tests.checks.faults.planting import KINDS, clean_houses, false_reports, is_found, planted

SHOWN = 10


def faults(seed: int, count: int) -> tuple[Counter[str], Counter[str]]:
    """How many faults of each kind were planted, and how many of them missed."""
    all_of, missed = Counter[str](), Counter[str]()
    for name, case in planted(seed, count):
        all_of[name] += 1
        if not is_found(case):
            missed[name] += 1
            if missed.total() <= SHOWN:
                print(f"missed: {name}: no {case.code} about {case.part}")
    return all_of, missed


def clean(seed: int, count: int) -> tuple[int, int]:
    """How many runs the clean panels hold together, and how many of the panels are reported."""
    runs = reported = 0
    for house in clean_houses(seed, count):
        runs += len(house.runs)
        false = false_reports(house)
        reported += bool(false)
        if false and reported <= SHOWN:
            print(f"false: {false[0].code} {false[0].parts}: {false[0].words}")
    return runs, reported


def main() -> int:
    """Plant, check and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--faults", type=int, default=5000)
    parser.add_argument("--clean", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=1)
    wanted = parser.parse_args()
    all_of, missed = faults(wanted.seed, wanted.faults)
    for name in KINDS:
        count, short = all_of[name], missed[name]
        print(f"{name:36s} planted {count:4d}, found {count - short:4d}, missed {short:3d}")
    runs, reported = clean(wanted.seed, wanted.clean)
    print(f"clean panels: {wanted.clean} with {runs} runs, {reported} reported")
    total, short = all_of.total(), missed.total()
    print(f"{len(all_of)} kinds, planted {total}, found {total - short}, missed {short}, false {reported}")
    return 1 if short or reported else 0


if __name__ == "__main__":
    sys.exit(main())
