"""A small house to plant one clash in: the readme's four walls with their cable replaced by other lines."""

from __future__ import annotations

from tests.specs import clean

__all__ = ["spec_text"]


def spec_text(*runs: str, boxes: str = "", sleeves: str = "") -> str:
    """The spec with these lines as its runs, and with more lines for boxes and sleeves."""
    head = clean().partition("\nruns:")[0]
    parts = [head, "runs:", *runs]
    for name, lines in (("boxes", boxes), ("sleeves", sleeves)):
        parts += [f"{name}:", lines] if lines else []
    return "\n".join(parts) + "\n"
