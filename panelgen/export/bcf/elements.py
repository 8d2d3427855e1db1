"""XML elements as BCF's schemas order them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from xml.etree.ElementTree import Element, indent, tostring

__all__ = ["branch", "document", "leaf"]

_ILLEGAL = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Characters that XML 1.0 cannot hold, even escaped."""


def leaf(tag: str, words: str, attributes: Mapping[str, str] | None = None) -> Element:
    """An element that holds words alone."""
    element = _element(tag, attributes)
    element.text = _legal(words)
    return element


def branch(tag: str, children: Iterable[Element], attributes: Mapping[str, str] | None = None) -> Element:
    """An element that holds others, in their order."""
    element = _element(tag, attributes)
    element.extend(children)
    return element


def document(root: Element) -> bytes:
    """The root as a whole UTF-8 document."""
    indent(root)
    body: str = tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{body}\n'.encode()


def _element(tag: str, attributes: Mapping[str, str] | None) -> Element:
    return Element(tag, {name: _legal(value) for name, value in (attributes or {}).items()})


def _legal(words: str) -> str:
    return _ILLEGAL.sub("\ufffd", words)
