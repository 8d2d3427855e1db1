"""Changes written into the text of a spec, which stays as it is everywhere else."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from panelgen.model import Change, SpecValue
from panelgen.spec.edit import with_value
from panelgen.spec.tree import read_tree
from panelgen.units import LENGTH_UNITS

__all__ = ["with_changes"]

_DECIMALS = 5


def with_changes(text: str, changes: Iterable[Change], unit: str) -> str:
    """The text of a spec in `unit` with every change made, in order; points that stay are kept as they are written.

    Raises SpecError and BadValueError where the text cannot be changed there (`panelgen.spec.edit`).
    """
    for change in changes:
        text = with_value(text, change.path, _written(text, change, unit))
    return text


def _written(text: str, change: Change, unit: str) -> Any:
    if not (isinstance(change.old, tuple) and isinstance(change.new, tuple)):
        return _plain(change.new, unit)
    here = read_tree(text).data
    for key in change.path:
        here = here[key]
    as_written = dict(zip(change.old, here, strict=True))
    return [as_written.get(row, _plain(row, unit)) for row in change.new]


def _plain(value: SpecValue, unit: str) -> Any:
    """A value of the model as the file holds it: lengths are bare numbers in its unit."""
    if isinstance(value, tuple):
        return [_plain(item, unit) for item in value]
    if not isinstance(value, float):
        return value
    length = round(value / LENGTH_UNITS[unit], _DECIMALS) + 0.0
    return int(length) if length.is_integer() else length
