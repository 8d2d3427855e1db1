"""A fault found in a spec, before its line is looked up, and help in finding the word that was meant."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from itertools import islice
from typing import NamedTuple

from panelgen.errors import Problem
from panelgen.spec.lines import Lines, Path, dotted

__all__ = ["Fault", "pick", "unknown"]

_MOST_LISTED = 20
_MOST_COMPARED = 1000
_NEAR = 0.7


class Fault(NamedTuple):
    """What is wrong with the field at `path`, and what to do. `value` is what the file says, for a person."""

    path: Path
    message: str
    remedy: str
    value: str = ""

    def problem(self, lines: Lines) -> Problem:
        """The fault with the line of its field."""
        return Problem(self.message, dotted(self.path), lines.at(self.path), self.value, self.remedy)


def pick(word: str, choices: Iterable[str]) -> str:
    """A remedy for a word that is none of `choices`: the nearest, or all if none is near."""
    names = list(islice(dict.fromkeys(choices), _MOST_COMPARED))
    near = get_close_matches(word, names, n=1, cutoff=_NEAR) or get_close_matches(
        word.lower(), names, n=1, cutoff=_NEAR
    )
    if near:
        return f"did you mean {near[0]}?"
    if not names:
        return "the file has none"
    if len(names) == 1:
        return f"write {names[0]}"
    listed = ", ".join(names[:_MOST_LISTED])
    return f"choose one of: {listed}{', …' if len(names) > _MOST_LISTED else ''}"


def unknown(path: Path, what: str, word: str, choices: Iterable[str]) -> Fault:
    """The field at `path` names a `what` that does not exist."""
    return Fault(path, f"there is no {what} of this name", pick(word, choices), repr(word))
