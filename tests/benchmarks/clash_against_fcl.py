"""Runs against wood in a house of 80 panels, beside a collision library that asks the same pairs.

Run with ``python -m tests.benchmarks.clash_against_fcl`` (needs ``pip install python-fcl``). Both sides start
from the same designed house, and both are timed twice: from the model, so that each makes what it needs (we
our arrays; the library its boxes, cylinders, transforms and the pairs with overlapping bounding boxes, found
by our own broad phase), and from that made beforehand. The library only says yes or no for each pair and
knows no bores; the check finds its pairs anew each time, and gives bores, measures and findings. Rounds of
both take turns, in processor time, and the median counts. Then one run of the house is edited and checked
again, alone in its panel. Prints the times and, last, the ratios.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import fcl
import numpy as np

from panelgen.checks.runs.lines import RunLines
from panelgen.checks.runs.member import run_member
from panelgen.checks.scene import Scene
from panelgen.design import design
from panelgen.geometry.boxes import overlapping
from panelgen.geometry.lines import perpendiculars
from panelgen.geometry.tolerance import TOLERANCE
from tests.benchmarks.houses import row_of_plots

ROUNDS = 15


def medians(*works: Callable[[], object]) -> list[float]:
    """Milliseconds of processor time of each work: the median of rounds in which they take turns."""
    spent: list[list[float]] = [[] for _ in works]
    for _ in range(ROUNDS):
        for work, times in zip(works, spent, strict=True):
            begin = time.process_time()
            work()
            times.append(1000 * (time.process_time() - begin))
    return [statistics.median(times) for times in spent]


def library_pairs(scene: Scene) -> list[tuple[Any, Any]]:
    """Every stretch as a cylinder and every member as a box, placed, and paired where their bounding boxes overlap."""
    rods, timber, lines = scene.lines.legs.rods, scene.timber, scene.lines
    first, second = perpendiculars(rods.direction)
    turns = np.stack((first, second, rods.direction), axis=2)
    middles = (rods.start + rods.end) / 2
    cylinders = [
        fcl.CollisionObject(fcl.Cylinder(radius, length), fcl.Transform(turn, middle))
        for radius, length, turn, middle in zip(rods.radius, rods.length, turns, middles, strict=True)
    ]
    centers = timber.origins + np.einsum("ni,nij->nj", timber.sizes / 2, timber.axes)
    boxes = [
        fcl.CollisionObject(fcl.Box(*size), fcl.Transform(axes.T, center))
        for size, axes, center in zip(timber.sizes, timber.axes, centers, strict=True)
    ]
    i, block = overlapping(lines.legs.boxes(TOLERANCE), timber.boxes, lines.panel, timber.block_panel)
    return [(cylinders[a], boxes[b]) for a, b in zip(i.tolist(), timber.owner[block].tolist(), strict=True)]


def main() -> None:
    """Time both and print."""
    house = design(row_of_plots(4))
    scene = Scene.of(house.panels)
    made = library_pairs(scene)
    request = fcl.CollisionRequest()

    def library(pairs: list[tuple[Any, Any]]) -> int:
        return sum(fcl.collide(a, b, request, fcl.CollisionResult()) > 0 for a, b in pairs)

    def library_whole() -> int:
        return library(library_pairs(Scene.of(house.panels)))

    def library_ready() -> int:
        return library(made)

    def whole() -> int:
        return len(run_member(Scene.of(house.panels)))

    def ready() -> int:
        return len(run_member(scene))

    def edit() -> int:
        home = house.panels[0]
        moved = replace(home.runs[0], path=tuple((x, y + 1.0, z) for x, y, z in home.runs[0].path))
        alone = replace(Scene.of((home,)), lines=RunLines.of((replace(home, runs=(moved,)),)))
        return len(run_member(alone))

    print(f"{len(scene.lines)} stretches, {len(scene.timber.members)} members, {len(made)} pairs of overlapping boxes")
    print(f"library: {library_ready()} pairs collide; check: {whole()} findings, bores understood")
    theirs_whole, theirs, ours_whole, ours, edited = medians(library_whole, library_ready, whole, ready, edit)
    print(f"from the model: library {theirs_whole:.1f} ms, check {ours_whole:.1f} ms")
    print(f"made beforehand: library {theirs:.1f} ms, check {ours:.1f} ms")
    print(f"one run edited and checked again: {edited:.2f} ms")
    print(f"check from the model / library that only collides: {ours_whole / theirs:.2f}")
    print(f"check / library: {ours_whole / theirs_whole:.2f} from the model, {ours / theirs:.2f} made beforehand")


if __name__ == "__main__":
    main()
