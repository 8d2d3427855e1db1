"""Plain words of a YAML file as values: text, whole numbers, numbers, true, false and null, nothing else.

The rules are those of JSON with a little ease (YAML 1.2 core schema). The surprises of older YAML are
left out: ``no`` and ``12:30`` stay text, ``010`` is not eight.
"""

from __future__ import annotations

import re

__all__ = ["Scalar", "resolved"]

Scalar = str | int | float | bool | None

_WORDS: dict[str, bool | None] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}
_INT = re.compile(r"[-+]?(?:0|[1-9][0-9]{0,30})")
_FLOAT = re.compile(r"[-+]?(?:(?:\.[0-9]+|[0-9]+\.[0-9]*)(?:[eE][-+]?[0-9]+)?|[0-9]+[eE][-+]?[0-9]+)")
_SPECIAL = re.compile(r"[-+]?\.(?:inf|nan)", re.IGNORECASE)


def resolved(text: str) -> Scalar:
    """The value of a word written without quotes."""
    if text in _WORDS:
        return _WORDS[text]
    if text[0] not in "+-.0123456789":
        return text
    if _INT.fullmatch(text):
        return int(text)
    if _FLOAT.fullmatch(text):
        return float(text)
    if _SPECIAL.fullmatch(text):
        return float(text.replace(".", ""))
    return text
