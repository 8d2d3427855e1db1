"""One error root. Bad input is an error; a design problem is a finding, never an exception."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = [
    "BadValueError",
    "CatalogError",
    "ExportError",
    "GeometryError",
    "IntakeError",
    "PanelgenError",
    "Problem",
    "SpecError",
]


class PanelgenError(Exception):
    """Root of every error that panelgen raises on purpose."""


class BadValueError(PanelgenError, ValueError):
    """One value that cannot be used: what is wrong with it, and what to write instead."""

    def __init__(self, words: str, remedy: str) -> None:
        self.words = words
        self.remedy = remedy
        super().__init__(words, remedy)

    def __str__(self) -> str:
        return f"{self.words}; {self.remedy}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with an input file.

    `field` is a dotted path such as ``openings[3].width``; `line` is 1-based, 0 where unknown.
    """

    message: str
    field: str = ""
    line: int = 0
    value: str = ""
    remedy: str = ""

    def __str__(self) -> str:
        place = f"line {self.line}: " if self.line else ""
        what = f"{self.field}: " if self.field else ""
        got = f" (got {self.value})" if self.value else ""
        remedy = f" Remedy: {self.remedy}" if self.remedy else ""
        return f"{place}{what}{self.message}{got}.{remedy}"


class SpecError(PanelgenError, ValueError):
    """A house spec cannot be used. Carries every problem found, not just the first."""

    def __init__(self, problems: Sequence[Problem], file: str = "") -> None:
        self.problems = tuple(problems)
        self.file = file
        super().__init__(str(self))

    def __str__(self) -> str:
        count = len(self.problems)
        head = f"{self.file or 'house spec'}: {count} problem{'s' if count != 1 else ''}"
        return "\n".join([head, *(f"  {problem}" for problem in self.problems)])


class CatalogError(PanelgenError, LookupError):
    """A product, size or rule is not in the catalog, or a catalog row is malformed."""


class GeometryError(PanelgenError, ValueError):
    """A shape that cannot exist: a skewed frame, an open outline, a length that is not finite."""


class ExportError(PanelgenError, OSError):
    """A file could not be written whole; nothing was left half-written."""


class IntakeError(PanelgenError, ValueError):
    """A foreign model file could not be read."""
