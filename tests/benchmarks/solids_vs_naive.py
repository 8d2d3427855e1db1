"""Solids of an 80-panel house: shared prototypes against one CadQuery chain a part.

Run with ``python -m tests.benchmarks.solids_vs_naive [PANELS]``. Both sides make every member, sheet, run
and box of the same house in one process and ask the kernel whether the shapes they made are valid; imports
are done before; times are of the processor, all threads.
The straightforward way is timed on panels spread evenly over the house (every one with ``--all``) and
scaled by its parts.

Two houses show what sharing is worth: a row of equal plots, whose panels repeat, and panels made by hand
of which no two have the same length. Prints both ratios last.
"""

from __future__ import annotations

import sys
import time
from importlib import import_module

from panelgen.design import design
from panelgen.model import House, Panel
from panelgen.solids import Prototypes, house_solids
from tests.benchmarks.houses import PANELS_PER_PLOT, row_of_plots
from tests.benchmarks.naive import parts_of
from tests.factories import small_house

KERNEL = ("BRepAlgoAPI", "BRepBuilderAPI", "BRepCheck", "BRepGProp", "BRepPrimAPI", "Geom", "ShapeFix", "gp")
SAMPLE = 10


def parts_in(panel: Panel) -> int:
    """Members, sheets, runs and boxes."""
    return len(panel.members) + len(panel.sheets) + len(panel.runs) + len(panel.boxes)


def ours(house: House, rounds: int = 3) -> tuple[float, int]:
    """Best time of `rounds` with nothing made before, and how many shapes stand for all parts."""
    best, shapes = float("inf"), 0
    for _ in range(rounds):
        shop = Prototypes()
        begin = time.process_time()
        house_solids(house, shop)
        best, shapes = min(best, time.process_time() - begin), len(shop)
    return best, shapes


def naive(house: House, every: int) -> float:
    """Time for all parts, from that of each `every`-th panel."""
    sample = house.panels[::every]
    begin = time.process_time()
    for panel in sample:
        assert all(part.solid.isValid() for part in parts_of(panel)), f"an invalid solid in {panel.label}"
    share = sum(map(parts_in, sample)) / sum(map(parts_in, house.panels))
    return (time.process_time() - begin) / share


def compare(name: str, house: House, every_panel: bool) -> float:
    """Print counts and both times for a house; the ratio of the times."""
    panels = house.panels
    members = [member for panel in panels for member in panel.members]
    bores = sum(len(member.bores) for member in members)
    sheets, runs = sum(len(panel.sheets) for panel in panels), sum(len(panel.runs) for panel in panels)
    print(f"{name}: {len(panels)} panels, {len(members)} members, {bores} bores, {sheets} sheets, {runs} run parts")
    quick, shapes = ours(house)
    print(f"  shared prototypes: {quick:.2f} s, {shapes} shapes, each checked by the kernel")
    every = 1 if every_panel else max(1, len(panels) // SAMPLE)
    slow = naive(house, every)
    print(f"  a CadQuery chain a part: {slow:.1f} s (one panel in {every} timed); ratio {slow / quick:.0f}")
    return slow / quick


def main(arguments: list[str]) -> None:
    """Compare both houses."""
    for module in KERNEL:
        import_module(f"OCP.{module}")
    wanted = next((int(word) for word in arguments if word.isdigit()), 80)
    houses = {
        "equal plots": design(row_of_plots(wanted // PANELS_PER_PLOT)),
        "no two panels equal": small_house(wanted, runs=3),
    }
    ratios = [compare(name, house, "--all" in arguments) for name, house in houses.items()]
    print(f"ratio: {ratios[0]:.0f} for equal plots, {ratios[1]:.0f} where no two panels are equal")


if __name__ == "__main__":
    main(sys.argv[1:])
