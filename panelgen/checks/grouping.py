"""One cause, one finding: the worst of all hits that have the same parts."""

from __future__ import annotations

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats

__all__ = ["worst_of_each"]


def worst_of_each(depth: Floats, *keys: Ints) -> Ints:
    """For every combination of `keys` (n,) the index of the hit with the greatest `depth` (n,); ordered by the keys.

    Of equal depths the first counts.
    """
    order = np.lexsort((-depth, *reversed(keys)))
    table = np.stack(keys, axis=1)[order]
    first = np.ones(len(order), dtype=bool)
    first[1:] = (table[1:] != table[:-1]).any(axis=1)
    result: Ints = order[first]
    return result
