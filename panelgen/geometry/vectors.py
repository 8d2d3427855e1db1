"""Vectors by the row: what numpy offers for these, at a fraction of its cost for the few rows of one panel."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from itertools import chain
from typing import TypeVar

import numpy as np

from panelgen.geometry.frames import Floats

__all__ = ["crosses", "lengths", "triads", "vector_rows"]

_T = TypeVar("_T")


def crosses(a: Floats, b: Floats) -> Floats:
    """Vector products along the last axis, of length 3; the other axes are broadcast."""
    a0, a1, a2 = a[..., 0], a[..., 1], a[..., 2]
    b0, b1, b2 = b[..., 0], b[..., 1], b[..., 2]
    first = a1 * b2 - a2 * b1
    result = np.empty((*first.shape, 3))
    result[..., 0] = first
    result[..., 1] = a2 * b0 - a0 * b2
    result[..., 2] = a0 * b1 - a1 * b0
    return result


def lengths(vectors: Floats) -> Floats:
    """Lengths along the last axis."""
    result: Floats = np.sqrt(np.einsum("...c,...c->...", vectors, vectors))
    return result


def triads(x: Floats, y: Floats) -> Floats:
    """(n, 3, 3) right-handed axes by the row, from the first two of each, (n, 3)."""
    result = np.empty((len(x), 3, 3))
    result[:, 0], result[:, 1], result[:, 2] = x, y, crosses(x, y)
    return result


def vector_rows(things: Collection[_T], vector: Callable[[_T], Iterable[float]], width: int = 3) -> Floats:
    """(n, width) float: `vector` of each thing. No tuple is kept, so many rows cost no garbage collection."""
    numbers = chain.from_iterable(map(vector, things))
    return np.fromiter(numbers, float, width * len(things)).reshape(-1, width)
