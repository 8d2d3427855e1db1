"""Every STEP and STL file of a house, read again by other libraries: valid, closed, and as big as the model.

Run with ``python -m tests.acceptance.main_step_reimports [HOUSE.yaml ...]``; without a file, the shipped two-storey
house and the one with floors, roofs and trusses. Prints the worst relative volume error last. Exits 1 if a solid is
invalid, a part's volume or the total is off by more than a millionth, a part is missing, or an STL part is not closed.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import trimesh

from panelgen import api
from panelgen.export.step import reread_step
from panelgen.model import House, Panel
from panelgen.model.truss_bodies import truss_volume
from panelgen.model.volumes import part_volumes

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
DEFAULT = [str(EXAMPLES / "tern-cottage.yaml"), str(EXAMPLES / "heron-house.yaml")]
CLOSE = 1e-6


@dataclass
class Verdict:
    """What is wrong so far, and how much was looked at."""

    worst: float = 0.0
    solids: int = 0
    parts: int = 0
    faults: list[str] = field(default_factory=list)

    def compare(self, what: str, found: float, expected: float) -> None:
        """Note the relative error of a volume."""
        error = abs(found / expected - 1.0)
        self.worst = max(self.worst, error)
        if error > CLOSE:
            self.faults.append(f"{what}: volume {found:.3f} mm3, the model says {expected:.3f}")


def printed_volumes(panels: Iterable[Panel]) -> dict[str, float]:
    """Volumes by what a part is called in the files: its mark, or its id."""
    volumes: dict[str, float] = {}
    for panel in panels:
        marks = {part.id: part.mark or part.id for part in (*panel.members, *panel.sheets)}
        for part, volume in part_volumes(panel):
            name = marks.get(part, part)
            volumes[name] = volumes.get(name, 0.0) + volume
    return volumes


def judge_step(path: Path, expected: Mapping[str, float], verdict: Verdict) -> None:
    """Compare a STEP file with the volumes of the model, part by part and in all."""
    _, solids = reread_step(path)
    found = dict.fromkeys(expected, 0.0)
    for solid in solids:
        verdict.solids += 1
        if not solid.is_valid:
            verdict.faults.append(f"{path.name}: {solid.name} is invalid")
        if solid.name not in found:
            verdict.faults.append(f"{path.name}: {solid.name} is not in the model")
            continue
        found[solid.name] += solid.volume
    for name, volume in expected.items():
        verdict.compare(f"{path.name}: {name}", found[name], volume)
    verdict.compare(f"{path.name}: total", sum(solid.volume for solid in solids), sum(expected.values()))


def judge_stl(path: Path, verdict: Verdict) -> None:
    """See that every solid of an STL file is closed, consistent and not inside out."""
    for name, mesh in trimesh.load_scene(path).geometry.items():
        verdict.parts += 1
        if not (mesh.is_watertight and mesh.is_winding_consistent and mesh.volume > 0):
            verdict.faults.append(f"{path.name}: {name} is not a closed solid")


def judge(house: House, folder: Path, verdict: Verdict) -> None:
    """Build the house into `folder` and judge every file."""
    files = api.build(house, folder)
    for file in files:
        if file.suffix == ".step":
            if file.parent == folder:
                trusses = {truss.id: truss_volume(truss) for truss in house.trusses}
                expected = printed_volumes(house.panels) | trusses
            else:
                expected = printed_volumes([house.panel(file.stem)])
            judge_step(file, expected, verdict)
        elif file.suffix == ".stl":
            judge_stl(file, verdict)


def main(arguments: list[str]) -> int:
    """Judge each house named."""
    verdict = Verdict()
    for name in arguments or DEFAULT:
        house = api.design(api.load(name))
        with tempfile.TemporaryDirectory() as scratch:
            judge(house, Path(scratch).resolve() / "out", verdict)
        print(f"{house.name}: {len(house.panels)} panels")
    for fault in verdict.faults:
        print(fault)
    print(f"STEP solids read again: {verdict.solids}; STL parts read again: {verdict.parts}")
    print(f"faults: {len(verdict.faults)}; worst relative volume error: {verdict.worst:.2e}")
    return 1 if verdict.faults or not verdict.solids or not verdict.parts else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
