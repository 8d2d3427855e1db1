"""Runs against wood in a house of 80 panels, beside a collision library that asks the same pairs.

Run with ``python -m tests.benchmarks.clash_against_fcl`` (needs ``pip install python-fcl``). The library gets
its boxes, cylinders and transforms ready made and only says yes or no for each pair of overlapping bounding
boxes; it knows no bores. The check is timed whole (arrays, bounding boxes, bores, measures and findings) and
from ready arrays. Then one run of the house is edited and checked again, alone in its panel. Prints the times
and, last, the ratios.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import fcl
import numpy as np

from panelgen.checks.run_member import run_member
from panelgen.checks.runlines import RunLines
from panelgen.checks.scene import Scene
from panelgen.design import design
from panelgen.geometry.boxes import overlapping
from panelgen.geometry.lines import perpendiculars
from panelgen.geometry.tolerance import TOLERANCE
from tests.benchmarks.houses import row_of_plots

ROUNDS = 7


def best(work: Callable[[], object]) -> float:
    """Seconds of the fastest of some rounds."""
    spent = []
    for _ in range(ROUNDS):
        begin = time.perf_counter()
        work()
        spent.append(time.perf_counter() - begin)
    return min(spent)


def library_objects(scene: Scene) -> tuple[list[Any], list[Any]]:
    """Every stretch as a cylinder and every member as a box, placed."""
    rods, timber = scene.lines.legs.rods, scene.timber
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
    return cylinders, boxes


def main() -> None:
    """Time both and print."""
    house = design(row_of_plots(4))
    scene = Scene.of(house.panels)
    lines, timber = scene.lines, scene.timber
    i, block = overlapping(lines.legs.boxes(TOLERANCE), timber.boxes, lines.panel, timber.block_panel)
    cylinders, boxes = library_objects(scene)
    pairs = [(cylinders[a], boxes[b]) for a, b in zip(i.tolist(), timber.owner[block].tolist(), strict=True)]
    request = fcl.CollisionRequest()

    def library() -> int:
        return sum(fcl.collide(a, b, request, fcl.CollisionResult()) > 0 for a, b in pairs)

    def whole() -> int:
        return len(run_member(Scene.of(house.panels)))

    def ready() -> int:
        return len(run_member(scene))

    def edit() -> int:
        home = house.panels[0]
        moved = replace(home.runs[0], path=tuple((x, y + 1.0, z) for x, y, z in home.runs[0].path))
        alone = replace(Scene.of((home,)), lines=RunLines.of((replace(home, runs=(moved,)),)))
        return len(run_member(alone))

    print(f"{len(lines)} stretches, {len(timber.members)} members, {len(pairs)} pairs of overlapping boxes")
    print(f"library: {library()} pairs collide; check: {whole()} findings, bores understood")
    others, ours, prepared = best(library), best(whole), best(ready)
    print(f"library {1000 * others:.1f} ms, check {1000 * ours:.1f} ms, from ready arrays {1000 * prepared:.1f} ms")
    print(f"one run edited and checked again: {1000 * best(edit):.2f} ms")
    print(f"check / library: {ours / others:.2f}, from ready arrays {prepared / others:.2f}")


if __name__ == "__main__":
    main()
