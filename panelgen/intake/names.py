"""Ids and names of the spec made from names of the model, which are long, free and not unique."""

from __future__ import annotations

import re
import unicodedata

__all__ = ["Ids", "comment", "family_id", "house_name", "type_id"]

_LONGEST_ID = 40
_LONGEST_HOUSE = 80
_LONGEST_COMMENT = 300


class Ids:
    """Hands out unique ids."""

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def unique(self, wish: str) -> str:
        """`wish`, with a number behind it where it is taken; never longer than an id may be."""
        found, count = wish[:_LONGEST_ID], 1
        while found in self._taken:
            count += 1
            tail = f"-{count}"
            found = wish[: _LONGEST_ID - len(tail)] + tail
        self._taken.add(found)
        return found


def type_id(name: str, fallback: str) -> str:
    """An id from a name such as ``Basic Wall:Interior - Partition:138584``: its type and its tag."""
    *parts, tag = _parts(name)
    return _joined(parts[-1:], tag, fallback)


def family_id(name: str, fallback: str) -> str:
    """An id from a name such as ``M_Fixed:819mm x 759mm:147994``: its family and its tag."""
    *parts, tag = _parts(name)
    return _joined(parts[:1], tag, fallback)


def house_name(*wishes: str | None) -> str:
    """The first of `wishes` that leaves letters or digits once signs that names cannot hold are gone."""
    for wish in wishes:
        plain = "".join(sign if sign.isalnum() or sign in " .,'()-" else " " for sign in wish or "")
        words = " ".join(plain.split())
        name = words.lstrip(" .,'()-")[:_LONGEST_HOUSE].rstrip(" .")
        if name:
            return name
    return "house"


def comment(text: str) -> str:
    """Text of the model made safe for one line of a comment."""
    line = " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
    return line if len(line) <= _LONGEST_COMMENT else line[: _LONGEST_COMMENT - 1] + "…"


def _parts(name: str) -> list[str]:
    """The parts of a name between colons and its tag, a number at its end, empty where there is none."""
    parts = [part.strip() for part in name.split(":") if part.strip()]
    has_tag = len(parts) > 1 and parts[-1].isascii() and parts[-1].isdigit()
    return parts if has_tag else [*parts, ""]


def _joined(words: list[str], tag: str, fallback: str) -> str:
    ascii_words = unicodedata.normalize("NFKD", " ".join(words)).encode("ascii", "ignore").decode()
    slug = re.sub(r"[^A-Za-z0-9_]+", "-", ascii_words).strip("-_") or fallback
    tag = tag[: _LONGEST_ID // 2]
    if not tag:
        return slug[:_LONGEST_ID].rstrip("-_")
    return f"{slug[: _LONGEST_ID - len(tag) - 1].rstrip('-_')}.{tag}"
