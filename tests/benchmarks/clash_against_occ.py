"""Runs against wood in a house of 80 panels, beside common volumes of solids for the same pairs.

Run with ``python -m tests.benchmarks.clash_against_occ [PAIRS]``. For that many of the pairs of overlapping
bounding boxes, evenly spread (400 if left out), the geometry kernel gets a cylinder and a box, ready made and
without bores, and computes what they share; the time of all pairs follows from theirs. The check is timed
whole: arrays, bounding boxes, bores, measures and findings. Prints both and, last, the ratio.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import Any

import numpy as np
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.GProp import GProp_GProps

from panelgen.checks.runs.member import run_member
from panelgen.checks.scene import Scene
from panelgen.design import design
from panelgen.geometry.boxes import overlapping
from panelgen.geometry.tolerance import TOLERANCE
from tests.benchmarks.houses import row_of_plots

ROUNDS = 5
SPECK = 1.0  # mm3


def spent(work: Callable[[], object], rounds: int) -> float:
    """Seconds of the fastest of some rounds."""
    times = []
    for _ in range(rounds):
        begin = time.perf_counter()
        work()
        times.append(time.perf_counter() - begin)
    return min(times)


def solids(scene: Scene, leg: int, member: int) -> tuple[Any, Any]:
    """A stretch as a cylinder and a member as a box."""
    rods, timber = scene.lines.legs.rods, scene.timber
    axis = gp_Ax2(gp_Pnt(*rods.start[leg]), gp_Dir(*rods.direction[leg]))
    cylinder = BRepPrimAPI_MakeCylinder(axis, float(rods.radius[leg]), float(rods.length[leg])).Shape()
    x, _, z = timber.axes[member]
    frame = gp_Ax2(gp_Pnt(*timber.origins[member]), gp_Dir(*z), gp_Dir(*x))
    return cylinder, BRepPrimAPI_MakeBox(frame, *map(float, timber.sizes[member])).Shape()


def shared(pair: tuple[Any, Any]) -> float:
    """The volume that two solids share, mm3."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(BRepAlgoAPI_Common(*pair).Shape(), properties)
    return float(properties.Mass())


def main(count: int) -> None:
    """Time both and print."""
    house = design(row_of_plots(4))
    scene = Scene.of(house.panels)
    lines, timber = scene.lines, scene.timber
    i, block = overlapping(lines.legs.boxes(TOLERANCE), timber.boxes, lines.panel, timber.block_panel)
    sample = np.linspace(0, len(i) - 1, min(count, len(i))).astype(np.int64)
    pairs = [solids(scene, int(i[k]), int(timber.owner[block[k]])) for k in sample]
    meet = 0

    def kernel() -> None:
        nonlocal meet
        meet = sum(shared(pair) > SPECK for pair in pairs)

    others = spent(kernel, 1) * len(i) / len(sample)
    ours = spent(lambda: run_member(Scene.of(house.panels)), ROUNDS)
    print(f"{len(lines)} stretches, {len(timber.members)} members, {len(i)} pairs of overlapping boxes")
    print(f"kernel: {meet} of {len(sample)} pairs share a volume; all pairs {others:.1f} s; check {1000 * ours:.1f} ms")
    print(f"kernel / check: {others / ours:.0f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 400)
