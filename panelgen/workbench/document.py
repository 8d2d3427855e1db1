"""A house spec as text and as what it means; a change gives the next one, with all else as it was written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from panelgen.errors import BadValueError
from panelgen.files import whole_file
from panelgen.model import Change
from panelgen.proposals import with_changes
from panelgen.spec import HouseSpec
from panelgen.spec import lines as paths
from panelgen.spec.edit import with_item, with_value
from panelgen.spec.loader import load, loads
from panelgen.spec.tree import read_tree

__all__ = ["Document"]


@dataclass(frozen=True, eq=False)
class Document:
    """The text of a spec, the spec that it holds, and the name of its file for messages."""

    text: str
    spec: HouseSpec
    name: str = ""

    @classmethod
    def of(cls, text: str, name: str = "") -> Document:
        """The document of a text. Raises SpecError with every problem of it."""
        return cls(text, loads(text, name), name)

    @classmethod
    def read(cls, path: Path | str) -> Document:
        """The document of a file. Raises SpecError with every problem of it."""
        spec = load(path)
        return cls(Path(path).read_bytes().decode(), spec, str(path))

    @cached_property
    def data(self) -> Any:
        """What is written, as plain values."""
        return read_tree(self.text, self.name).data

    def written(self, path: paths.Path) -> Any:
        """The value as it is written at a path; None where nothing is."""
        here = self.data
        for key in path:
            here = paths.entered(here, key)
        return here

    def edited(self, path: paths.Path, value: Any) -> Document:
        """The document with a value at a path; what lies around it is made where it was left out.

        Raises SpecError where the spec is not good any more, BadValueError where the place cannot be changed.
        """
        while len(path) > 1 and self.written(path[:-1]) is None:
            *around, key = path
            path, value = tuple(around), {key: value}
        return self._next(with_value(self.text, path, value))

    def changed(self, changes: Sequence[Change]) -> Document:
        """The document with the changes of a proposal. Raises SpecError and BadValueError as `edited` does."""
        return self._next(with_changes(self.text, changes, self.spec.unit))

    def waived(self, code: str, part: str, reason: str, decided_by: str) -> Document:
        """The document with a finding accepted. Raises SpecError where the reason or the name will not do."""
        waiver = {"code": code, "part": part, "reason": reason, "decided_by": decided_by}
        for field, what in (("reason", "why it is accepted"), ("decided_by", "who decided")):
            if not waiver[field].strip():
                raise BadValueError(f"a waiver needs {field.replace('_', ' ')}", f"say {what}")
        return self._next(with_item(self.text, ("waivers",), waiver))

    def save(self, path: Path | str) -> None:
        """Write the text, whole or not at all. Raises ExportError."""
        with whole_file(path) as scratch:
            scratch.write_bytes(self.text.encode())

    def _next(self, text: str) -> Document:
        return Document.of(text, self.name)
