"""YAML or JSON text to plain data that keeps its line numbers.

Only what a spec needs is read: mappings with text keys, lists, and plain values. Sizes are capped while
the text is read, with aliases counted as often as they are used, so a small file cannot unfold into a
huge one. The parser's events are taken one by one: nothing here recurses.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any, NamedTuple, NoReturn

import yaml

from panelgen.errors import Problem, SpecError
from panelgen.spec.lines import Key, Lines, Path, dotted, shown
from panelgen.spec.scalars import Scalar, resolved
from panelgen.spec.syntax import syntax_problem

__all__ = ["MAX_DEPTH", "MAX_NODES", "MAX_SCALAR", "MAX_SIZE", "Document", "read_tree"]

MAX_SIZE = 5_000_000
MAX_DEPTH = 40
MAX_NODES = 200_000
MAX_SCALAR = 10_000

_LOADER: Any = getattr(yaml, "CLoader", yaml.Loader)  # for its events only: no tag becomes an object
_TAG = "tag:yaml.org,2002:"
_NOT_TEXT = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_TOO_LARGE = "split the house, or remove what the tool does not need"
_SPELL_OUT = "write it out here instead of an alias"


@dataclass(frozen=True, slots=True)
class Document:
    """What a file holds. `problems` are faults that did not stop the reading, such as a key given twice."""

    data: Any
    lines: Lines
    problems: tuple[Problem, ...] = ()


def read_tree(text: str, file: str = "") -> Document:
    """Read one YAML or JSON document.

    Raises SpecError, with the line, where the text is not YAML, holds what a spec never needs, or is
    over one of the caps of this module.
    """
    text = text.removeprefix("\ufeff")
    builder = _Builder(file)
    if len(text) > MAX_SIZE:
        builder.refuse(0, f"the file is longer than {MAX_SIZE:,} characters", _TOO_LARGE)
    if odd := _NOT_TEXT.search(text):
        line = text.count("\n", 0, odd.start()) + 1
        builder.refuse(line, f"the character {odd[0]!a} cannot stand in a text file", "remove it")
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            builder.take(event)
    except yaml.MarkedYAMLError as error:
        raise SpecError([syntax_problem(error, text)], file) from error
    return builder.document()


class _Node(NamedTuple):
    """Data with its lines; how many values it holds and how deep it is, aliases unfolded."""

    data: Any
    lines: Lines
    weight: int = 1
    depth: int = 0


@dataclass(slots=True)
class _Open:
    """A mapping or list that is still being read. `key` waits for its value."""

    line: int
    data: Any
    anchor: str | None
    parts: dict[Key, Lines] = field(default_factory=dict)
    weight: int = 1
    depth: int = 1
    key: str | None = None
    key_line: int = 0

    @property
    def wants_key(self) -> bool:
        return isinstance(self.data, dict) and self.key is None

    @property
    def place(self) -> Key | None:
        """Key or index of what is being read now."""
        return len(self.data) if isinstance(self.data, list) else self.key


@dataclass(slots=True)
class _Builder:
    """Takes the parser's events in order; keeps data and lines side by side."""

    file: str
    stack: list[_Open] = field(default_factory=list)
    anchors: dict[str, _Node] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    root: _Node | None = None
    total: int = 0

    def take(self, event: Any) -> None:
        line = event.start_mark.line + 1
        if isinstance(event, yaml.ScalarEvent):
            self._scalar(event, line)
        elif isinstance(event, yaml.MappingStartEvent):
            self._open(event, line, {})
        elif isinstance(event, yaml.SequenceStartEvent):
            self._open(event, line, [])
        elif isinstance(event, yaml.CollectionEndEvent):
            self._close()
        elif isinstance(event, yaml.AliasEvent):
            self._alias(event.anchor, line)
        elif isinstance(event, yaml.DocumentStartEvent) and self.root is not None:
            self.refuse(line, "a second document starts here", "keep one house in a file, without '---' between")

    def document(self) -> Document:
        if self.root is None:
            self.refuse(0, "the file is empty", "start from one of the shipped examples")
        return Document(self.root.data, self.root.lines, tuple(self.problems))

    def refuse(self, line: int, message: str, remedy: str) -> NoReturn:
        raise SpecError([Problem(message, dotted(self._path()), line, remedy=remedy)], self.file)

    def _scalar(self, event: Any, line: int) -> None:
        self._count(1, line)
        if len(event.value) > MAX_SCALAR:
            self.refuse(line, f"this text is longer than {MAX_SCALAR:,} characters", "shorten it")
        if not (self.stack and self.stack[-1].wants_key):
            self._place(_Node(self._value(event, line), Lines(line)), line, event.anchor)
            return
        if event.value == "<<" and event.implicit[0]:
            self.refuse(line, "merge keys (<<) are not read", "write the keys out here")
        top = self.stack[-1]
        top.key, top.key_line = event.value, line
        top.weight += 1

    def _value(self, event: Any, line: int) -> Scalar:
        if event.tag not in (None, "!", _TAG + "str"):
            self.refuse(line, f"the tag {shown(event.tag)} is not read", "remove the tag")
        text: str = event.value
        return resolved(text) if event.tag is None and event.implicit[0] else text

    def _open(self, event: Any, line: int, data: Any) -> None:
        self._count(1, line)
        if event.tag is not None:
            self.refuse(line, f"the tag {shown(event.tag)} is not read", "remove the tag")
        if self.stack and self.stack[-1].wants_key:
            self.refuse(line, "a list or mapping stands where a key should", "write the key as a word")
        self._check_depth(1, line)
        self.anchors.pop(event.anchor, None)
        self.stack.append(_Open(line, data, event.anchor))

    def _close(self) -> None:
        done = self.stack.pop()
        self._place(_Node(done.data, Lines(done.line, done.parts), done.weight, done.depth), done.line, done.anchor)

    def _alias(self, name: str | None, line: int) -> None:
        if self.stack and self.stack[-1].wants_key:
            self.refuse(line, "an alias stands where a key should", _SPELL_OUT)
        if any(part.anchor == name for part in self.stack):
            self.refuse(line, f"the alias *{name} stands inside what it repeats", _SPELL_OUT)
        if name is None or name not in self.anchors:
            self.refuse(line, f"the alias *{name} has no anchor &{name} above it", _SPELL_OUT)
        node = self.anchors[name]
        self._count(node.weight, line)
        self._check_depth(node.depth, line)
        self._place(node, line, None)

    def _place(self, node: _Node, line: int, anchor: str | None) -> None:
        if anchor is not None:
            self.anchors[anchor] = node
        if not self.stack:
            self.root = node
            return
        top = self.stack[-1]
        top.weight += node.weight
        top.depth = max(top.depth, node.depth + 1)
        place = top.place
        assert place is not None  # a mapping's value always follows its key
        if isinstance(top.data, list):
            top.data.append(node.data)
            top.parts[place] = Lines(line, node.lines.parts)
            return
        if place in top.data:
            first = top.parts[place].line
            words = f"this key is given twice, first on line {first}"
            self.problems.append(Problem(words, dotted(self._path()), top.key_line, remedy="keep one of the two"))
        else:
            top.data[place] = node.data
            top.parts[place] = Lines(top.key_line, node.lines.parts)
        top.key = None

    def _path(self) -> Path:
        """The way to what is being read now."""
        return tuple(place for part in self.stack if (place := part.place) is not None)

    def _count(self, weight: int, line: int) -> None:
        self.total += weight
        if self.total > MAX_NODES:
            words = f"the file holds more than {MAX_NODES:,} values once its aliases are unfolded"
            self.refuse(line, words, _TOO_LARGE)

    def _check_depth(self, depth: int, line: int) -> None:
        if len(self.stack) + depth > MAX_DEPTH:
            words = f"mappings and lists are nested more than {MAX_DEPTH} deep"
            self.refuse(line, words, "check the brackets and the indentation")
