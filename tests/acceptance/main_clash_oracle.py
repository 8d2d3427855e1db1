"""The clash checks against a solid modeller: random runs and sticks, and how often both say the same.

Run with ``python -m tests.acceptance.main_clash_oracle [PAIRS]``: that many pairs of each kind, 200 if left
out. A pair is decided where solids drawn inside and around the true shapes agree. Prints each kind and,
last, the total; exits 1 on any disagreement or too few decided pairs.
"""

from __future__ import annotations

import sys

from tests.checks.oracle import KINDS, Agreement, compare_runs, compare_sticks

LEAST = 500


def main(pairs: int) -> int:
    """Compare and print."""
    results = {f"{kind}: run and stick": compare_runs(kind, 2024, pairs) for kind in KINDS}
    results |= {
        f"two {'notched' if notches else 'plain'} sticks": compare_sticks(2024, pairs, notches) for notches in (0, 1)
    }
    for name, agreement in results.items():
        print(f"{name:32s} {pairs} pairs, {agreement.decided} decided, {agreement.meet} meet")
        for pair in agreement.disputed:
            print(f"  disputed: {pair}")
    total = sum(results.values(), Agreement())
    agreed = total.decided - len(total.disputed)
    print(f"the check and the modeller agree on {agreed} of {total.decided} decided pairs")
    return 0 if agreed == total.decided >= LEAST else 1


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
