"""Design and checks of an 80-panel house against CadQuery solids and a common volume a candidate pair.

Run with ``python -m tests.benchmarks.check_vs_naive [PANELS]``. The straightforward way is timed on panels
spread evenly over the house and scaled by their number; it designs nothing. Times are of the processor, all
threads. Prints the ratio last.
"""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass

from panelgen.api import check, design
from panelgen.model import House
from panelgen.spec import HouseSpec
from tests.benchmarks.houses import PANELS_PER_PLOT, row_of_plots
from tests.benchmarks.naive import candidate_pairs, clashing, nail_pairs, nails_of, parts_of

SAMPLE = 5


def ours(spec: HouseSpec, rounds: int = 3) -> float:
    """Best time of `rounds` from spec to findings."""
    best = float("inf")
    for _ in range(rounds):
        begin = time.process_time()
        check(design(spec))
        best = min(best, time.process_time() - begin)
    return best


@dataclass
class Peer:
    """What the straightforward way took for the house, s, and what it asked for in the sampled panels."""

    solids: float = 0.0
    commons: float = 0.0
    nails: float = 0.0
    asked: int = 0
    met: int = 0


def naive(house: House, every: int) -> Peer:
    """Times for the whole house from those of each `every`-th panel."""
    sample = house.panels[::every]
    scale = len(house.panels) / len(sample)
    peer = Peer()
    for panel in sample:
        begin = time.process_time()
        parts = parts_of(panel)
        made = time.process_time()
        pairs = candidate_pairs(parts)
        met = clashing(parts, parts, pairs)
        asked = time.process_time()
        nails = nails_of(panel)
        names = {run.id for run in panel.runs}
        runs = [part for part in parts if part.id in names]
        nailed = nail_pairs(nails, runs)
        met += clashing(nails, runs, nailed)
        peer.solids += (made - begin) * scale
        peer.commons += (asked - made) * scale
        peer.nails += (time.process_time() - asked) * scale
        peer.asked += len(pairs) + len(nailed)
        peer.met += len(met)
    return peer


def main(arguments: list[str]) -> None:
    """Print both times and the ratio."""
    wanted = int(arguments[0]) if arguments else 80
    spec = row_of_plots(wanted // PANELS_PER_PLOT)
    house = design(spec)
    quick = ours(spec)
    print(f"design and checks of {len(house.panels)} panels: {quick:.3f} s")
    every = max(1, len(house.panels) // SAMPLE)
    peer = naive(house, every)
    print(f"candidate pairs (bounding boxes overlap) in one panel of {every}: {peer.asked}, of which {peer.met} clash")
    print(f"CadQuery solids {peer.solids:.0f} s, common volumes {peer.commons:.0f} s, nails {peer.nails:.0f} s")
    print(f"ratio without the peer's nails: {(peer.solids + peer.commons) / quick:.0f}")
    print(f"ratio: {(peer.solids + peer.commons + peer.nails) / quick:.0f}")


if __name__ == "__main__":
    main(sys.argv[1:])
