"""Changes of a spec, made on its model."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from pydantic import BaseModel

from panelgen.model import Change
from panelgen.spec import HouseSpec

__all__ = ["changed"]


def changed(spec: HouseSpec, changes: Iterable[Change]) -> HouseSpec:
    """The spec with each change made, in order; only lengths and lists of points are replaced."""
    for change in changes:
        spec = _put(spec, change.path, change.new)
    return spec


def _put(node: Any, path: tuple[str | int, ...], value: object) -> Any:
    if not path:
        return value
    key, rest = path[0], path[1:]
    if isinstance(node, BaseModel):
        return node.model_copy(update={str(key): _put(getattr(node, str(key)), rest, value)})
    place = int(key)
    return (*node[:place], _put(node[place], rest, value), *node[place + 1 :])
