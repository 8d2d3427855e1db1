"""Why a part is there: the rule that placed it, in words, and where that rule comes from."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Why"]


@dataclass(frozen=True, slots=True)
class Why:
    """`rule` is a stable id such as ``stud.layout``; `source` names a spec field, a code or a practice."""

    rule: str
    words: str
    source: str
