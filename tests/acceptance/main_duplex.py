"""A real IFC model through the main job: import, load, design, check, and models of every panel.

Run with ``python -m tests.acceptance.main_duplex [MODEL.ifc]``; without an argument it takes the Duplex
architecture model from the folder of shared data beside the project. The model's own walls and openings are
counted from the text of the file, not by the import. Fails where fewer than 50 of 57 walls or 34 of 36
openings (or those shares of another model) reach the designed house, or a panel is not built.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from panelgen import api
from tests.project.tree import ROOT

DUPLEX = ROOT.parent / "shared" / "data" / "ifc" / "duplex" / "Duplex_A_20110907.ifc"
WALLS = (50, 57)
OPENINGS = (34, 36)

_ENTITY = re.compile(r"^#(\d+)\s*=\s*(IFC\w+)\s*\((.*)\)\s*;", re.MULTILINE)
_REFERENCE = re.compile(r"#(\d+)")


def own_counts(model: Path) -> tuple[int, int]:
    """Walls in the file, and openings in them that a window or door fills."""
    entities = {number: (kind, values) for number, kind, values in _ENTITY.findall(model.read_text(errors="replace"))}

    def last_two(kind: str) -> Iterable[tuple[str, str]]:
        for name, values in entities.values():
            if name == kind:
                first, second = _REFERENCE.findall(values)[-2:]
                yield first, second

    walls = {number for number, (kind, _) in entities.items() if kind.startswith("IFCWALL") and "TYPE" not in kind}
    units = {number for number, (kind, _) in entities.items() if kind in ("IFCWINDOW", "IFCDOOR")}
    filled = {opening for opening, unit in last_two("IFCRELFILLSELEMENT") if unit in units}
    openings = {opening for host, opening in last_two("IFCRELVOIDSELEMENT") if host in walls}
    return len(walls), len(filled & openings)


def enough(through: int, own: int, share: tuple[int, int]) -> bool:
    """True where at least that share came through."""
    return through * share[1] >= own * share[0]


def main(model: Path) -> int:
    """Print what came through, what did not and why, and what was built."""
    intake = api.read_ifc(model)
    for item in intake.left:
        print(f"left: {item.kind} {item.name}: {item.reason}")
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "house.yaml"
        file.write_text(intake.spec_text, encoding="utf-8")
        house = api.design(api.load(file))
        findings = api.check(house)
        written = api.build(house, Path(folder) / "out")
        steps = {path.stem for path in written if path.suffix == ".step" and path.stat().st_size}
    for (severity, code), count in sorted(Counter((f.severity.value, f.code) for f in findings).items()):
        print(f"{severity}: {code} × {count}")
    walls = {panel.wall for panel in house.panels}
    openings = {opening.id for panel in house.panels for opening in panel.openings}
    missing = [panel.label for panel in house.panels if panel.label not in steps]
    for label in missing:
        print(f"no STEP file: {label}")
    own_walls, own_openings = own_counts(model)
    print(
        f"{model.name}: {len(walls)} of {own_walls} walls and {len(openings)} of {own_openings} filled openings came "
        f"through; {len(house.panels) - len(missing)} of {len(house.panels)} panels built; {len(findings)} findings"
    )
    through = enough(len(walls), own_walls, WALLS) and enough(len(openings), own_openings, OPENINGS)
    return 0 if through and not missing else 1


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else DUPLEX))
