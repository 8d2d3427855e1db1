"""Small house specs for tests of the whole path."""

from __future__ import annotations

from tests.project import readme


def clean() -> str:
    """The spec that README.md shows: four walls, one window, one cable."""
    (spec,) = readme.blocks("yaml")
    return spec


def too_wide() -> str:
    """The same with a window that no header of the table carries: one stop finding in the south wall."""
    return clean().replace("kind: window, width: 36", "kind: window, width: 150")


def misspelt() -> str:
    """The same with a key that no spec has, on line 3."""
    return clean().replace("unit: in", "units: in")
