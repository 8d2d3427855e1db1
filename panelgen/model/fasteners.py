"""Nails and screws, held as arrays: one object for a row of nails, never one object a nail."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from panelgen.geometry.frames import Floats, Vec3
from panelgen.model.why import Why

__all__ = ["Fasteners"]


@dataclass(frozen=True, slots=True, eq=False)
class Fasteners:
    """Nails of one kind driven in one direction.

    `points` is (n, 3) float: the heads, on the outer face of what is fastened, in panel coordinates.
    `direction` is the unit vector the shank follows. `fastened` and `into` are (n,) int: the index
    in `Panel.members` or `Panel.sheets` (as `fastens_sheets` says) of the part under the head, and
    the index in `Panel.members` of the part that holds the point. `on_site` nails are driven by the
    crew.
    """

    id: str
    product: str
    length: float
    shank: float
    points: Floats
    direction: Vec3
    fastened: NDArray[np.int64]
    into: NDArray[np.int64]
    fastens_sheets: bool
    why: Why
    on_site: bool = False

    def __len__(self) -> int:
        return len(self.points)
