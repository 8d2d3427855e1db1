"""Changes to the text of a spec that leave every other character as it is: comments, order, spacing.

The text is not written anew: what changes is cut out, and what is new is put in where it belongs. Both YAML
and JSON files can be changed. What comes out is read again and must hold the change and nothing else.
"""

from __future__ import annotations

import json
from typing import Any

import yaml

from panelgen.errors import BadValueError
from panelgen.spec.flow import block_lines, flow_text
from panelgen.spec.lines import Key, Path, dotted
from panelgen.spec.tree import read_tree

__all__ = ["with_item", "with_value"]

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # for its nodes only: no tag becomes an object
_BOM = "\ufeff"


def with_value(text: str, path: Path, value: Any) -> str:
    """The text with `value` at `path`: in place of what is there, or as a new key of the mapping around it.

    Raises SpecError where the text cannot be read; BadValueError where the path leads nowhere, or the
    place cannot be changed by itself, as in what an alias repeats.
    """
    wanted = _copied(read_tree(text).data)
    _around(wanted, path)[path[-1]] = value
    return _checked(_Text(text).put(path, value), wanted, path)


def with_item(text: str, path: Path, item: Any) -> str:
    """The text with `item` at the end of the list at `path`, which is made where there is none.

    Raises as `with_value` does, and BadValueError where there is something else than a list.
    """
    wanted = _copied(read_tree(text).data)
    around, key = _around(wanted, path), path[-1]
    before = around.get(key) if isinstance(around, dict) else around[key]
    if not isinstance(before, (list, type(None))):
        raise BadValueError(f"{dotted(path)} is not a list", "name a list")
    around[key] = [*(before or ()), item]
    source = _Text(text)
    return _checked(source.extend(path, item) if before else source.put(path, [item]), wanted, path)


def _around(data: Any, path: Path) -> Any:
    """What the last step of a path leads into."""
    here = data
    for key in path[:-1]:
        try:
            here = here[key]
        except (LookupError, TypeError):
            raise _leads_nowhere(path) from None
    is_place = isinstance(here, dict) if isinstance(path[-1], str) else isinstance(here, list) and path[-1] < len(here)
    if not is_place:
        raise _leads_nowhere(path)
    return here


def _copied(data: Any) -> Any:
    """The same data with nothing shared: what an alias repeats is there twice."""
    if isinstance(data, dict):
        return {key: _copied(value) for key, value in data.items()}
    return [_copied(value) for value in data] if isinstance(data, list) else data


def _leads_nowhere(path: Path) -> BadValueError:
    return BadValueError(f"{dotted(path)} leads nowhere in this file", "name a field that is there")


def _checked(text: str, wanted: Any, path: Path) -> str:
    """The text, if it holds just what is wanted."""
    if read_tree(text).data != wanted:
        remedy = "write it out there, without alias or anchor, on lines of its own"
        raise BadValueError(f"{dotted(path)} cannot be changed by itself in this file", remedy)
    return text


class _Text:
    """A text with the nodes that the YAML parser sees in it."""

    def __init__(self, text: str) -> None:
        self._bom = _BOM if text.startswith(_BOM) else ""
        self._text = text.removeprefix(_BOM)
        self._root: Any = yaml.compose(self._text, Loader=_LOADER)
        self._newline = "\r\n" if "\r\n" in text else "\n"

    def put(self, path: Path, value: Any) -> str:
        """The text with a value at a path."""
        around = self._node(path[:-1])
        node = _child(around, path[-1])
        if node is None:
            return self._with_key(around, str(path[-1]), value)
        start, end = node.start_mark.index, _end(node)
        if isinstance(node, yaml.CollectionNode) and not node.flow_style:
            return self._replaced(start, end, block_lines(value, " " * node.start_mark.column, broken=True))
        if start < end:
            return self._replaced(start, end, [self._flow(value)])
        if isinstance(value, list):  # nothing is written after the key
            indent = " " * (around.start_mark.column + 2)
            first, *rest = block_lines(value, indent, broken=True)
            return self._replaced(start, end, ["", indent + first, *rest])
        return self._replaced(start, end, [f" {self._flow(value)}"])

    def extend(self, path: Path, item: Any) -> str:
        """The text with one item more in the list at a path, which has items."""
        node = self._node(path)
        last = node.value[-1]
        if node.flow_style:
            return self._after(last, last.start_mark, self._flow(item), node)
        indent = " " * node.start_mark.column
        first, *rest = block_lines(item, f"{indent}  ")
        return self._below(last, [f"{indent}- {first}", *rest])

    def _with_key(self, around: Any, key: str, value: Any) -> str:
        if around.flow_style:
            written = f"{self._flow(key)}: {self._flow(value)}"
            if around.value:
                (last_key, last) = around.value[-1]
                return self._after(last, last_key.start_mark, written, around)
            return self._replaced(around.start_mark.index + 1, around.start_mark.index + 1, [written])
        indent = " " * around.start_mark.column
        if isinstance(value, list) and value:
            first, *rest = block_lines(value, f"{indent}  ", broken=True)
            lines = [f"{indent}{flow_text(key)}:", f"{indent}  {first}", *rest]
        else:
            first, *rest = block_lines({key: value}, indent, broken=True)
            lines = [indent + first, *rest]
        return self._below(around.value[-1][1], lines)

    def _node(self, path: Path) -> Any:
        node = self._root
        for key in path:
            node = _child(node, key)
        return node

    def _flow(self, value: Any) -> str:
        """A value on one line, as JSON in a JSON file."""
        return json.dumps(value, ensure_ascii=False) if self._root.flow_style else flow_text(value)

    def _after(self, last: Any, mark: Any, written: str, node: Any) -> str:
        """After the last entry, beginning at `mark`, of what stands in brackets: on a line of its own if that does."""
        at = _end(last)
        lead = self._newline + " " * mark.column if mark.line > node.start_mark.line else " "
        return self._replaced(at, at, [f",{lead}{written}"])

    def _below(self, last: Any, lines: list[str]) -> str:
        """Whole lines below the one on which the last entry ends."""
        at = _end(last)
        if at and self._text[at - 1] == "\n":
            return self._replaced(at, at, [*lines, ""])
        stop = self._text.find("\n", at)
        if stop < 0:
            return self._replaced(len(self._text), len(self._text), ["", *lines])
        return self._replaced(stop + 1, stop + 1, [*lines, ""])

    def _replaced(self, start: int, end: int, lines: list[str]) -> str:
        return f"{self._bom}{self._text[:start]}{self._newline.join(lines)}{self._text[end:]}"


def _child(node: Any, key: Key) -> Any:
    """The node one step further in; None for a key that a mapping lacks."""
    if isinstance(node, yaml.MappingNode):
        return next((value for name, value in node.value if name.value == key), None)
    return node.value[key]


def _end(node: Any) -> int:
    """Where the last character of a node is written, without the space and comments after it."""
    while isinstance(node, yaml.CollectionNode) and not node.flow_style:
        last = node.value[-1]
        node = last[1] if isinstance(last, tuple) else last
    end: int = node.end_mark.index
    return end
