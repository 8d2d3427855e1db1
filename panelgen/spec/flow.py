"""Values as YAML text, in words that the reader of specs takes for the same values."""

from __future__ import annotations

import json
import re
from typing import Any

from panelgen.spec.scalars import resolved

__all__ = ["block_lines", "flow_text"]

_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ._/'+-]*[A-Za-z0-9.'])?")
_STEP = "  "
_WIDTH = 110


def flow_text(value: Any) -> str:
    """A mapping, list or plain value on one line; text is quoted where it would be read as something else."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{flow_text(key)}: {flow_text(item)}" for key, item in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(map(flow_text, value)) + "]"
    if isinstance(value, str) and _PLAIN.fullmatch(value) and resolved(value) == value:
        return value
    return json.dumps(value, ensure_ascii=False)


def block_lines(value: Any, indent: str, broken: bool = False) -> list[str]:
    """The same on one line if it fits with its `indent` and is not to be `broken`, or else a line for each entry.

    All lines but the first have the indent: the first is to be written after what the value belongs to.
    """
    flow = flow_text(value)
    fits = len(indent) + len(flow) <= _WIDTH and not broken
    if fits or not value or not isinstance(value, (dict, list, tuple)):
        return [flow]
    lines: list[str] = []
    inner = indent + _STEP
    if isinstance(value, dict):
        for key, item in value.items():
            first, *rest = block_lines(item, inner)
            name = f"{indent}{flow_text(key)}:"
            lines += [name, inner + first, *rest] if rest else [f"{name} {first}"]
    else:
        for item in value:
            first, *rest = block_lines(item, inner)
            lines += [f"{indent}- {first}", *rest]
    return [lines[0].removeprefix(indent), *lines[1:]]
