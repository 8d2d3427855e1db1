"""What a kind of finding is: its stable code, how grave it is, and the words for it."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.model import Severity

__all__ = ["Code"]


@dataclass(frozen=True, slots=True)
class Code:
    """One kind of finding."""

    code: str
    severity: Severity
    meaning: str
    words: str
