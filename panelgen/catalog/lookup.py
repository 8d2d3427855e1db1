"""Rows by name, and an error that helps where there is no such name."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TypeVar

from panelgen.errors import CatalogError

__all__ = ["find", "index"]

_K = TypeVar("_K", str, int)
_T = TypeVar("_T")


def index(rows: Iterable[_T], key: Callable[[_T], _K]) -> dict[_K, _T]:
    """Rows by their key, in file order. Raises CatalogError where a key comes twice."""
    found: dict[_K, _T] = {}
    for row in rows:
        if found.setdefault(key(row), row) is not row:
            raise CatalogError(f"the catalog has {key(row)!r} twice: {found[key(row)]} and {row}")
    return found


def find(rows: Mapping[_K, _T], key: _K, what: str) -> _T:
    """The row with that key. Raises CatalogError naming the nearest keys, or all if none is near."""
    try:
        return rows[key]
    except KeyError:
        pass
    from difflib import get_close_matches  # only a mistake has to wait for it

    names = [str(name) for name in rows]
    near = get_close_matches(str(key), names, n=3, cutoff=0.5) or names
    raise CatalogError(f"no {what} {key!r} in the catalog; nearest: {', '.join(near)}")
