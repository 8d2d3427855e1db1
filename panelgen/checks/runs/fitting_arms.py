"""The arms of fittings, and the blocks of rectangular runs, as rows beside the stretches of runs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.checks.runs.visits import Visit, place_on
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats, Vec3, add
from panelgen.geometry.rods import Bools
from panelgen.model import Fitting
from panelgen.model.pieces import DuctPiece, ducts_along, fitting_pieces

__all__ = ["Arms", "arms_and_blocks"]


@dataclass(frozen=True, slots=True, eq=False)
class Arms:
    """m arms of fittings: indices of run part and fitting, ends (m, 3), radius, place along the part, round far end."""

    run: Ints
    fitting: Ints
    start: Floats
    end: Floats
    radius: Floats
    place: Floats
    bends: Bools


_ArmRow = tuple[float, ...]
"""run, fitting, start (3), end (3), radius, place, bends."""


def arms_and_blocks(
    visits: Sequence[Visit], paths: Sequence[Sequence[Vec3]], first: Ints
) -> tuple[Arms, dict[int, Floats]]:
    """The arms of all fittings, and the corners of rectangular legs: stretches count from 0 on, then come the arms.

    `first` is the first stretch of each visit.
    """
    rows: list[_ArmRow] = []
    blocks: dict[int, Floats] = {}
    stretches = sum(len(path) - 1 for path in paths)
    number = 0
    for run, visit in enumerate(visits):
        section = visit.part.outside_section
        if section is not None:
            pieces = ducts_along(paths[run], section)
            blocks.update(enumerate((piece.corners() for piece in pieces), int(first[run])))
        for fitting in visit.fittings:
            _add_arms(rows, blocks, stretches, run, fitting, number, paths[run])
            number += 1
    table = np.array(rows, dtype=float).reshape(-1, 11)
    run_of, fitting_of = table[:, 0].astype(np.int64), table[:, 1].astype(np.int64)
    ends = table[:, 2:5], table[:, 5:8]
    return Arms(run_of, fitting_of, *ends, table[:, 8], table[:, 9], table[:, 10] > 0.0), blocks


def _add_arms(
    rows: list[_ArmRow],
    blocks: dict[int, Floats],
    stretches: int,
    run: int,
    fitting: Fitting,
    number: int,
    path: Sequence[Vec3],
) -> None:
    place, _ = place_on(path, fitting.point)
    ends = [add(fitting.point, arm) for arm in fitting.arms]
    if fitting.section is not None:
        pieces = [piece for piece in fitting_pieces(fitting) if isinstance(piece, DuctPiece)]
        blocks.update(enumerate((piece.corners() for piece in pieces), stretches + len(rows)))
        lines = [(piece.frame.origin, piece.frame.point(piece.stick.length, 0.0, 0.0)) for piece in pieces]
        bends = [False] * len(pieces)
    elif fitting.angle:
        lines, bends = [(ends[0], fitting.point), (fitting.point, ends[1])], [True, False]
    else:
        lines, bends = [(ends[0], ends[1]), *((fitting.point, end) for end in ends[2:])], [False] * (len(ends) - 1)
    for (a, b), bend in zip(lines, bends, strict=True):
        rows.append((run, number, *a, *b, fitting.diameter / 2, place, bend))
