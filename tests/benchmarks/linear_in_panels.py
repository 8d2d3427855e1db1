"""Design and checks cost the same for each panel whatever the size of the house.

Run with ``python -m tests.benchmarks.linear_in_panels``. Prints seconds for about 80, 160 and 320 panels
and, last, the cost of a panel in the largest house as a ratio of that in the smallest.
"""

from __future__ import annotations

import time

from panelgen.api import check, design
from tests.benchmarks.houses import PANELS_PER_PLOT, row_of_plots


def seconds(plots: int, rounds: int = 3) -> tuple[int, float]:
    """Panels of the house and the best of `rounds` processor times of design and checks."""
    spec = row_of_plots(plots)
    best = float("inf")
    for _ in range(rounds):
        begin = time.process_time()
        house = design(spec)
        check(house)
        best = min(best, time.process_time() - begin)
    return len(house.panels), best


def main() -> None:
    """Print the timings and the ratio."""
    design(row_of_plots(1))
    costs = []
    for plots in (4, 8, 16):
        panels, best = seconds(plots)
        assert panels >= plots * PANELS_PER_PLOT, "the row has fewer panels than it says"
        costs.append(best / panels)
        print(f"{panels:4d} panels: {best:6.3f} s, {1000 * costs[-1]:.2f} ms a panel")
    print(f"cost of a panel, largest house / smallest house: {costs[-1] / costs[0]:.2f}")


if __name__ == "__main__":
    main()
