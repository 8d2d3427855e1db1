"""The example specs that the workbench is tried on."""

from __future__ import annotations

from tests.project.tree import ROOT

__all__ = ["FAULTY", "ONE_WALL", "SPACING", "differing_lines"]

ONE_WALL = ROOT / "examples" / "one-wall.yaml"
FAULTY = ROOT / "examples" / "tern-cottage-faulty.yaml"
SPACING = ("assemblies", "exterior", "layers", 1, "spacing")


def differing_lines(before: str, after: str) -> list[tuple[str, str]]:
    """Lines of two texts of as many lines that are not the same."""
    return [pair for pair in zip(before.splitlines(), after.splitlines(), strict=True) if pair[0] != pair[1]]
