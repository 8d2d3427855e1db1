"""The assembled house, part against part, by another kernel: no stick or sheet of a panel shares space with another's.

Run with ``python -m tests.acceptance.house_assembled_fit [--houses N] [--seed N]``. Looks at the example house and at
random ones, then moves one panel of each by 5 mm and must find that. Prints the pairs looked at and the largest
volume that two parts share, and what was found last; exits 1 where parts share space or a moved panel is missed.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import manifold3d
import numpy as np

from panelgen.api import design, load
from panelgen.geometry.boxes import Boxes, overlapping
from panelgen.geometry.frames import Frame, add
from panelgen.meshes import Mesh, MeshStore, panel_meshes
from panelgen.model import House, Panel, PanelKind
from panelgen.solids import tessellated
from tests.project.tree import ROOT
from tests.random_houses import random_house

EXAMPLE = ROOT / "examples" / "heron-house.yaml"
TOUCH = 0.02
"""mm. Boxes that overlap by less touch."""

ALLOWED = 1.0
"""mm3. Less is the rounding of the meshes."""

MOVED = 5.0


@dataclass(eq=False)
class Part:
    """A stick or a sheet in the house, `panel` the place of its panel."""

    panel: int
    id: str
    mesh: Mesh
    made: list[manifold3d.Manifold] = field(default_factory=list)

    def solid(self) -> manifold3d.Manifold:
        """The same in the other kernel. Raises ValueError where that takes it for no solid."""
        if not self.made:
            mesh = manifold3d.Mesh64(vert_properties=self.mesh.vertices, tri_verts=self.mesh.faces.astype(np.uint64))
            mesh.merge()
            self.made.append(manifold3d.Manifold(mesh))
            if self.made[0].status() is not manifold3d.Error.NoError:
                raise ValueError(f"{self.id} is no solid: {self.made[0].status()}")
        return self.made[0]


@dataclass
class Fit:
    """Pairs of parts whose boxes overlap, the largest volume (mm3) that two share, and those that share any."""

    pairs: int
    largest: float
    shared: list[str]


def parts_of(panels: Sequence[Panel]) -> Iterator[Part]:
    """Every stick and sheet but those that the crew fixes on site."""
    store = MeshStore(tessellated)
    for number, panel in enumerate(panels):
        built = [*panel.members, *panel.sheets]
        for part, mesh in zip(built, panel_meshes(panel, store, panel.frame), strict=False):
            if not part.loose:
                yield Part(number, part.id, mesh.mesh)


def fit(panels: Sequence[Panel]) -> Fit:
    """How the parts of different panels fit."""
    parts = list(parts_of(panels))
    owner = np.array([part.panel for part in parts])
    low, high = (np.array([getattr(part.mesh.vertices, side)(axis=0) for part in parts]) for side in ("min", "max"))
    boxes = Boxes(low, high).grown(-TOUCH / 2)
    i, j = overlapping(boxes, boxes)
    apart = (i < j) & (owner[i] != owner[j])
    found = Fit(int(apart.sum()), 0.0, [])
    for a, b in zip(i[apart].tolist(), j[apart].tolist(), strict=True):
        volume = (parts[a].solid() ^ parts[b].solid()).volume()
        found.largest = max(found.largest, volume)
        if volume > ALLOWED:
            found.shared.append(f"{parts[a].id} and {parts[b].id} share {volume:.1f} mm3")
    return found


def one_moved(panels: Sequence[Panel], rng: np.random.Generator) -> list[Panel]:
    """The panels, an outer wall of them moved toward its neighbour."""
    walls = [n for n, panel in enumerate(panels) if panel.kind is PanelKind.EXTERIOR_WALL]
    number = walls[int(rng.integers(len(walls)))]
    frame = panels[number].frame
    by = (frame.x[0] * MOVED, frame.x[1] * MOVED, frame.x[2] * MOVED)
    moved = replace(panels[number], frame=Frame(add(frame.origin, by), frame.x, frame.y))
    return [*panels[:number], moved, *panels[number + 1 :]]


def houses(count: int, seed: int) -> Iterator[tuple[str, House]]:
    """The example and some random houses."""
    yield EXAMPLE.name, design(load(EXAMPLE))
    for number in range(seed, seed + count):
        yield f"house {number}", design(random_house(number))


def main() -> int:
    """Look and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--houses", type=int, default=6)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args()
    rng = np.random.default_rng(options.seed)
    wrong, missed, pairs, largest = [], 0, 0, 0.0
    for name, house in houses(options.houses, options.seed):
        found = fit(house.panels)
        seen = fit(one_moved(house.panels, rng)).shared
        print(f"{name}: {len(house.panels)} panels, {found.pairs} pairs, at most {found.largest:.2g} mm3 shared")
        wrong += [f"{name}: {words}" for words in found.shared]
        missed += not seen
        pairs, largest = pairs + found.pairs, max(largest, found.largest)
    for words in wrong[:10]:
        print(words)
    print(f"{pairs} pairs, {len(wrong)} share space, at most {largest:.2g} mm3; moved panels missed: {missed}")
    return 1 if wrong or missed else 0


if __name__ == "__main__":
    sys.exit(main())
