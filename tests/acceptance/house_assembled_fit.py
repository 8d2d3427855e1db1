"""The assembled house: by another kernel no two panels share space, and none stand apart at a joint.

Run with ``python -m tests.acceptance.house_assembled_fit [--houses N] [--seed N] [--moves N]``. Looks at the example
house and at random ones. Then moves an outer wall of each by 5 mm toward its neighbour, which must be found, and any
panels any way, and asks whether the checks name the same pairs of panels. Prints the pairs looked at and the largest
volume that two parts share, and what was found last; exits 1 where parts share space, a moved panel is missed, or
the checks differ.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import manifold3d
import numpy as np

from panelgen.api import design, load
from panelgen.checks.scene import Scene
from panelgen.checks.shell.gaps import joint_gaps
from panelgen.checks.shell.shared_space import panel_panel
from panelgen.checks.shell.standing import Standing
from panelgen.geometry.boxes import Boxes, overlapping
from panelgen.geometry.frames import Frame, Vec3, add, scaled
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.meshes import Mesh, MeshStore, panel_meshes
from panelgen.model import House, Joint, JointKind, Panel, PanelKind
from panelgen.solids import tessellated
from tests.checks.apart import away, shifted
from tests.project.tree import ROOT
from tests.random_houses import random_house

EXAMPLE = ROOT / "examples" / "heron-house.yaml"
TOUCH = 0.02
"""mm. Boxes that overlap by less touch."""

ALLOWED = 1.0
"""mm3. Less is the rounding of the meshes."""

MOVED = 5.0
LEAST = 4.0
"""mm. Faces on a slope are less far apart than panels were drawn."""

LONG = 1300.0
"""mm. Loose plates cover shorter joints of walls altogether."""

FARTHEST = 20.0


@dataclass(eq=False)
class Part:
    """A stick or a sheet in the house, and the label of its panel."""

    panel: str
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


@dataclass(frozen=True)
class Shared:
    """Two parts of different panels, and the volume (mm3) that they share."""

    one: Part
    other: Part
    volume: float

    @property
    def panels(self) -> frozenset[str]:
        """The labels of the two panels."""
        return frozenset((self.one.panel, self.other.panel))

    def __str__(self) -> str:
        return f"{self.one.id} and {self.other.id} share {self.volume:.1f} mm3"


@dataclass(frozen=True)
class Fit:
    """How many pairs of parts have boxes that overlap, the largest volume (mm3) of two, and those that share any."""

    pairs: int
    largest: float
    shared: list[Shared]

    @property
    def panels(self) -> set[frozenset[str]]:
        """The pairs of panels that share space."""
        return {shared.panels for shared in self.shared}


def parts_of(panels: Sequence[Panel]) -> list[Part]:
    """Every stick and sheet but those that the crew fixes on site."""
    store = MeshStore(tessellated)
    return [
        Part(panel.label, part.id, mesh.mesh)
        for panel in panels
        for part, mesh in zip((*panel.members, *panel.sheets), panel_meshes(panel, store, panel.frame), strict=False)
        if not part.loose
    ]


def fit(parts: Sequence[Part], moved: str = "") -> Fit:
    """How the parts of different panels fit; of a house that fits, only those of the panel that was `moved`."""
    owner = np.array([part.panel for part in parts])
    low, high = (np.array([getattr(part.mesh.vertices, side)(axis=0) for part in parts]) for side in ("min", "max"))
    boxes = Boxes(low, high).grown(-TOUCH / 2)
    some = np.flatnonzero(owner == moved) if moved else np.arange(len(parts))
    i, j = overlapping(boxes.take(some), boxes)
    i = some[i]
    apart = owner[i] != owner[j]
    if not moved:
        apart &= i < j
    found = [
        Shared(parts[a], parts[b], (parts[a].solid() ^ parts[b].solid()).volume())
        for a, b in zip(i[apart].tolist(), j[apart].tolist(), strict=True)
    ]
    largest = max((shared.volume for shared in found), default=0.0)
    return Fit(len(found), largest, [shared for shared in found if shared.volume > ALLOWED])


def checked(panels: Sequence[Panel]) -> set[frozenset[str]]:
    """The pairs of panels of which the checks say that parts share space."""
    owners: dict[str, set[str]] = {}
    for panel in panels:
        for part in (*panel.members, *panel.sheets):
            owners.setdefault(part.id, set()).add(panel.label)
    pairs = set()
    for finding in panel_panel(Standing.of(Scene.of(panels))):
        (other,) = owners[finding.parts[1]] - {finding.panel}
        pairs.add(frozenset((finding.panel, other)))
    return pairs


def moved(panel: Panel, by: Vec3) -> Panel:
    """The panel set down elsewhere in the house."""
    return replace(panel, frame=Frame(add(panel.frame.origin, by), panel.frame.x, panel.frame.y))


@dataclass(frozen=True)
class Assembly:
    """The panels of a house, and their parts."""

    panels: tuple[Panel, ...]
    parts: list[Part]

    @classmethod
    def of(cls, panels: Sequence[Panel]) -> Assembly:
        """The parts of panels as they stand."""
        return cls(tuple(panels), parts_of(panels))

    def with_moved(self, panel: Panel, by: Vec3) -> Assembly:
        """One panel moved by so much, house coordinates, mm."""
        return Assembly(
            tuple(moved(one, by) if one is panel else one for one in self.panels),
            [
                Part(one.panel, one.id, Mesh(one.mesh.vertices + by, one.mesh.faces))
                if one.panel == panel.label
                else one
                for one in self.parts
            ],
        )


def toward_its_neighbour(panels: Sequence[Panel], rng: np.random.Generator) -> tuple[Panel, Vec3]:
    """An outer wall, and 5 mm along it."""
    walls = [panel for panel in panels if panel.kind is PanelKind.EXTERIOR_WALL]
    panel = walls[int(rng.integers(len(walls)))]
    return panel, scaled(panel.frame.x, MOVED)


def anywhere(panels: Sequence[Panel], rng: np.random.Generator) -> tuple[Panel, Vec3]:
    """Any panel, and up to 20 mm along one of its axes."""
    panel = panels[int(rng.integers(len(panels)))]
    axis = (panel.frame.x, panel.frame.y, panel.frame.z)[int(rng.integers(3))]
    return panel, scaled(axis, float(rng.choice((-1.0, 1.0)) * rng.uniform(0.2, FARTHEST)))


@dataclass
class Gaps:
    """The joints measured, the widest, how many were opened, and those of which that was not found."""

    measured: int = 0
    widest: float = 0.0
    opened: int = 0
    missed: list[str] = field(default_factory=list)

    def look(self, house: House, rng: np.random.Generator) -> None:
        """Measure every joint of a house, and open one of each kind."""
        found = list(joint_gaps(Standing.of(Scene.of(house.panels)), house.joints))
        self.measured += len(found)
        self.widest = max([self.widest, *(gap.width for gap in found)])
        kinds: dict[JointKind, list[Joint]] = {}
        for gap in found:
            if gap.joint.length > LONG:
                kinds.setdefault(gap.joint.kind, []).append(gap.joint)
        for kind, own in kinds.items():
            joint = own[int(rng.integers(len(own)))]
            panel, way = away(house, joint)
            wide = shifted(house, panel, scaled(way, MOVED))
            self.opened += 1
            if not any(gap.width > LEAST for gap in joint_gaps(Standing.of(Scene.of(wide.panels)), (joint,))):
                self.missed.append(f"{kind} {' | '.join(joint.panels)}")


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
    parser.add_argument("--moves", type=int, default=20)
    options = parser.parse_args()
    rng = np.random.default_rng(options.seed)
    wrong, missed, differ, asked, pairs, largest, gaps = [], 0, [], 0, 0, 0.0, Gaps()
    for name, house in houses(options.houses, options.seed):
        stands = Assembly.of(house.panels)
        found = fit(stands.parts)
        gaps.look(house, rng)
        wrong += [f"{name}: {shared}" for shared in found.shared]
        pairs, largest = pairs + found.pairs, max(largest, found.largest)
        moves = [toward_its_neighbour(house.panels, rng), *(anywhere(house.panels, rng) for _ in range(options.moves))]
        seen = [(stands.panels, found.panels)]
        for number, (panel, by) in enumerate(moves):
            there = stands.with_moved(panel, by)
            clashing = fit(there.parts, panel.label).panels
            missed += number == 0 and not clashing
            seen.append((there.panels, clashing))
        for panels, expected in seen:
            got = checked(panels)
            asked += 1
            if got != expected:
                differ.append(f"{name}: {[sorted(pair) for pair in sorted(map(sorted, got ^ expected))]}")
        clashes = sum(bool(expected) for _, expected in seen)
        print(
            f"{name}: {len(house.panels)} panels, {found.pairs} pairs, at most {found.largest:.2g} mm3 shared; "
            f"{clashes} of {len(moves)} moves clash"
        )
    for words in (*wrong[:10], *differ[:10], *gaps.missed[:10]):
        print(words)
    print(
        f"{pairs} pairs, {len(wrong)} share space, at most {largest:.2g} mm3; moved panels missed: {missed}; "
        f"the checks agree in {asked - len(differ)} of {asked} assemblies; {gaps.measured} joints, none wider than "
        f"{gaps.widest:.2g} mm; {gaps.opened - len(gaps.missed)} of {gaps.opened} opened ones found"
    )
    return 1 if wrong or missed or differ or gaps.missed or gaps.widest > TOLERANCE else 0


if __name__ == "__main__":
    sys.exit(main())
