"""The clash checks against a solid modeller, on at least 5,000 random pairs that the modeller decides.

Run with ``python -m tests.acceptance.services_oracle [PAIRS]``: that many pairs of each kind, 550 if left out:
runs, rectangular ducts and fittings against bevelled, bored and notched sticks, sticks, boxes and sticks, and
runs against runs. Prints each kind and, last, the total; exits 1 on any disagreement or too few decided pairs.
"""

from __future__ import annotations

import sys

from tests.checks.oracle import KINDS, Agreement, compare_runs, compare_sticks
from tests.checks.oracle_services import beyond_tolerance, compare_boxes, compare_fittings, compare_run_pairs

LEAST = 5000
SEED = 3


def compare(pairs: int) -> dict[str, Agreement]:
    """What the check and the modeller say of `pairs` of each kind."""
    results = {f"{kind}: run and stick": beyond_tolerance(compare_runs(kind, SEED, pairs)) for kind in KINDS}
    results["two plain sticks"] = compare_sticks(SEED, pairs, 0)
    results["two notched sticks"] = compare_sticks(SEED, pairs, 1)
    results["fitting and stick"] = compare_fittings(SEED, pairs)
    results["box and stick"] = compare_boxes(SEED, pairs)
    results["two runs"] = compare_run_pairs(SEED, 2 * pairs)
    return results


def main(pairs: int) -> int:
    """Compare and print."""
    results = compare(pairs)
    for name, agreement in results.items():
        print(
            f"{name:32s} {agreement.decided:5d} decided, {agreement.meet:4d} meet, {len(agreement.disputed)} disputed"
        )
        for pair in agreement.disputed[:3]:
            print(f"  disputed: {pair}")
    total = sum(results.values(), Agreement())
    agreed = total.decided - len(total.disputed)
    print(f"the checks and the modeller agree on {agreed} of {total.decided} decided pairs")
    return 0 if agreed == total.decided >= LEAST else 1


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 550))
