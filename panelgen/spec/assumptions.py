"""Every value that nobody wrote down and that still decided something: the defaults of a spec."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from panelgen.spec.house import HouseSpec
from panelgen.spec.lines import Key, Path, dotted, step
from panelgen.spec.quantities import Measure
from panelgen.units import format_length, parse_length

__all__ = ["defaults_used"]

_EXACT = 0.01  # mm: a default that is rounded by more is written in mm

_CONTAINERS = (BaseModel, tuple, dict)

_Group = tuple[type[BaseModel], str, int, str]
"""Class, field, depth of its path, and value: what makes defaults in several places one."""


def defaults_used(house: HouseSpec) -> tuple[tuple[str, str, str], ...]:
    """The defaults in force, each as (field path, value with its unit, ``default``), in the order of the models.

    A default that applies in many places is given once, with ``*`` for what differs between them:
    ``openings[*].sill (30 places)``. Fields that hold nothing are left out: they decide nothing.
    """
    groups: dict[_Group, list[Path]] = {}
    for path, owner, value in _defaults(house, (), house.unit):
        groups.setdefault((owner, str(path[-1]), len(path), value), []).append(path)
    return tuple((_places(paths), value, "default") for (*_, value), paths in groups.items())


def _defaults(model: BaseModel, path: Path, unit: str) -> Iterator[tuple[Path, type[BaseModel], str]]:
    """Default fields of a model and of the models in it: path, class, value as text."""
    kind, written = type(model), model.model_fields_set
    for name, info in kind.model_fields.items():
        value = getattr(model, name)
        if isinstance(value, _CONTAINERS) and any(isinstance(inner, BaseModel) for inner in _inside(value)):
            yield from _nested(value, (*path, name), unit)
        elif name not in written and value not in (None, (), {}, ""):
            yield (*path, name), kind, _text(value, _measure(info), unit)


def _measure(field: FieldInfo) -> str:
    """The unit of a field's numbers, also where it may hold none; empty for what is no quantity."""
    choices = get_args(field.annotation)
    marks = chain(field.metadata, *(getattr(choice, "__metadata__", ()) for choice in choices))
    return next((mark.unit for mark in marks if isinstance(mark, Measure)), "")


def _inside(value: Any) -> Sequence[Any]:
    if isinstance(value, dict):
        return tuple(value.values())
    return value if isinstance(value, tuple) else (value,)


def _nested(value: Any, path: Path, unit: str) -> Iterator[tuple[Path, type[BaseModel], str]]:
    if isinstance(value, BaseModel):
        yield from _defaults(value, path, unit)
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from _nested(inner, (*path, key), unit)
    else:
        for index, inner in enumerate(value):
            yield from _nested(inner, (*path, index), unit)


def _text(value: Any, measure: str, unit: str) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if measure == "mm":
        written = format_length(value, unit)
        return written if abs(parse_length(written) - value) < _EXACT else format_length(value, "mm")
    return f"{value:g} {measure}" if measure else str(value)


def _places(paths: Sequence[Path]) -> str:
    """One path for all: the keys they share, and ``*`` where they differ."""
    if len(paths) == 1:
        return dotted(paths[0])
    steps = [step(keys[0]) if len(set(keys)) == 1 else _any(keys[0]) for keys in zip(*paths, strict=True)]
    return f"{''.join(steps).removeprefix('.')} ({len(paths)} places)"


def _any(key: Key) -> str:
    return "[*]" if isinstance(key, int) else ".*"
