"""A row of supplied trusses as the view shows it: beside the panels, as something of its own that can be picked.

Its axes are those of its first truss: x along the span, y up, z along the row.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from panelgen.geometry.frames import WORLD, Floats, Frame
from panelgen.model import Truss
from panelgen.model.truss_bodies import truss_frame
from panelgen.view.layers import ViewLayer
from panelgen.view.looks import Looks
from panelgen.view.parts import Part

__all__ = ["row_head", "row_label", "truss_parts"]


def row_label(row: Sequence[Truss]) -> str:
    """What the row is called among the panels."""
    return f"trusses {row[0].row}"


def row_head(row: Sequence[Truss]) -> dict[str, object]:
    """The row as the head of a panel, without its blocks."""
    first = row[0]
    low, high = _box(row).tolist()
    return {
        "label": row_label(row),
        "kind": str(ViewLayer.TRUSSES),
        "level": first.level,
        "wall": "",
        "frame": [*first.frame.origin, *first.frame.x, *first.frame.y],
        "size": [high[0] - low[0], high[1] - low[1]],
        "depth": (low[2], high[2]),
        "mass": round(sum(truss.mass for truss in row), 1),
    }


def truss_parts(row: Sequence[Truss], looks: Looks) -> list[Part]:
    """Each truss of a row, in the order in which they stand; `of` is the row, `sizes` its span and height."""
    return [
        Part(
            id=truss.id,
            kind="truss",
            what="supplied truss",
            layer=ViewLayer.TRUSSES,
            slot=0,
            step=(0, number, 0.0),
            shapes=(looks.truss(truss, Frame((x, y, z), WORLD.x, WORLD.y)),),
            why=truss.why,
            stock=f"walls {truss.bearings[0]} and {truss.bearings[1]}",
            sizes=(truss.span, float(np.ptp([height for _, height in truss.outline]))),
            mass=truss.mass,
            of=truss.row,
        )
        for number, (truss, (x, y, z)) in enumerate(zip(row, _feet(row).tolist(), strict=True))
    ]


def _feet(row: Sequence[Truss]) -> Floats:
    """(n, 3): where the body of each truss starts."""
    return row[0].frame.to_local([truss_frame(truss).origin for truss in row])


def _box(row: Sequence[Truss]) -> Floats:
    """(2, 3): the low and the high corner of the row."""
    outline = np.array([(*point, z) for point in row[0].outline for z in (0.0, row[0].thickness)])
    points = (_feet(row)[:, None] + outline).reshape(-1, 3)
    return np.stack((points.min(axis=0), points.max(axis=0)))
