"""The example specs that the workbench is tried on."""

from __future__ import annotations

from tests.project.tree import ROOT

__all__ = ["FAULTY", "ONE_WALL", "SPACING", "crossed", "differing_lines"]

ONE_WALL = ROOT / "examples" / "one-wall.yaml"
FAULTY = ROOT / "examples" / "tern-cottage-faulty.yaml"
SPACING = ("assemblies", "exterior", "layers", 1, "spacing")


def crossed() -> str:
    """The text of one wall with a water line through its cable: one stop finding, with a way out."""
    line = "  - {id: C1, system: cold water, size: pex-1/2, wall: N1, path: [[70, 56, cavity], [90, 56, cavity]]}"
    return ONE_WALL.read_text(encoding="utf-8").replace("\nboxes:\n", f"{line}\n\nboxes:\n")


def differing_lines(before: str, after: str) -> list[tuple[str, str]]:
    """Lines of two texts of as many lines that are not the same."""
    return [pair for pair in zip(before.splitlines(), after.splitlines(), strict=True) if pair[0] != pair[1]]
