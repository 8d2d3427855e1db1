"""Where each field of a file was written, and how a field is named to a person."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, NamedTuple

__all__ = ["Key", "Lines", "Path", "dotted", "entered", "shown", "step"]

Key = str | int
Path = tuple[Key, ...]
"""The way to a field: keys of mappings and indices of lists."""

_PLAIN_KEY = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_-]*")
_LONGEST_SHOWN = 60


class Lines(NamedTuple):
    """The 1-based line of a field, and the same for each field inside it."""

    line: int
    parts: Mapping[Key, Lines] = {}

    def at(self, path: Path) -> int:
        """Line of the field at `path`; where the path leads nowhere, of the last field on the way."""
        here = self
        for key in path:
            inner = here.parts.get(key)
            if inner is None:
                break
            here = inner
        return here.line


def dotted(path: Path) -> str:
    """A path as a person writes it: ``openings[3].width``, ``unit_types["W 36"].height``."""
    return "".join(map(step, path)).removeprefix(".")


def step(key: Key) -> str:
    """One step of a dotted path: ``[3]``, ``.width`` or ``["W 36"]``."""
    if isinstance(key, int):
        return f"[{key}]"
    return f".{key}" if _PLAIN_KEY.fullmatch(key) else f"[{shown(key)}]"


def entered(data: Any, key: Key) -> Any:
    """What the file holds one step further in; None where there is no such step."""
    try:
        return data[key]
    except (LookupError, TypeError):
        return None


def shown(value: object) -> str:
    """A value from the file for an error message: short, on one line, with control characters escaped."""
    if isinstance(value, dict):
        return f"a mapping of {len(value)}"
    if isinstance(value, (list, tuple)):
        return f"a list of {len(value)}"
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, str):
        cut = value if len(value) <= _LONGEST_SHOWN else value[: _LONGEST_SHOWN - 1] + "…"
        return ascii(cut) if not cut.isprintable() else repr(cut)
    return repr(value)
