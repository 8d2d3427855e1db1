"""Sorts a table of nails into batches of one kind and direction, each with the reason for it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from panelgen.design.nail_clearance import clear_of_services
from panelgen.design.nail_lines import Kind, Nails
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools, Rods
from panelgen.model import Fasteners, Finding, Severity, Why

__all__ = ["batches"]

_DECIMALS = 9
"""Directions that agree so far are one direction."""

_REMARKS = ("moved beside services", "left out beside services", "nearer to a sheet's edge than scheduled")


def batches(
    label: str, nails: Nails, close: Bools, kinds: Sequence[Kind], services: Rods
) -> tuple[tuple[Fasteners, ...], tuple[Finding, ...]]:
    """The nails of panel `label` that keep off `services`, and what had to be left out for that.

    There is a batch for each kind and direction, kinds in order. `Nails.kind` are indices of `kinds`.
    `close` (n,) says which nails are nearer to a sheet's edge than scheduled; the reasons count these,
    and the nails that were moved or left out.
    """
    drive = np.round(nails.drive, _DECIMALS) + 0.0
    order = np.lexsort((drive[:, 2], drive[:, 1], drive[:, 0], nails.kind))
    nails, drive, close = nails.take(order), drive.take(order, axis=0), close[order]
    length = np.array([kind.fastener.length for kind in kinds])[nails.kind]
    radius = np.array([kind.fastener.shank / 2 for kind in kinds])[nails.kind]
    head, moved, lost = clear_of_services(nails, length, radius, services)
    turns = np.logical_or.reduce(drive[1:] != drive[:-1], axis=1) | (nails.kind[1:] != nails.kind[:-1])
    starts = np.concatenate(([0], np.flatnonzero(turns) + 1))
    counts = [np.add.reduceat(remark, starts, dtype=np.int64).tolist() for remark in (moved, lost, close)]
    codes, directions = nails.kind[starts].tolist(), drive[starts].tolist()
    numbers = [0] * len(kinds)
    made: list[Fasteners] = []
    findings: list[Finding] = []
    for n, (start, stop) in enumerate(pairwise([*starts.tolist(), len(nails)])):
        kind = kinds[codes[n]]
        numbers[codes[n]] += 1
        name = f"{label}/{kind.name}-{numbers[codes[n]]}"
        remarks = [count[n] for count in counts]
        rows: slice | Ints = slice(start, stop)
        if remarks[1]:
            findings.append(_left_out(label, name, kind, lost[start:stop], head[start:stop]))
            rows = start + np.flatnonzero(~lost[start:stop])
            if remarks[1] == stop - start:
                continue
        x, y, z = directions[n]
        made.append(
            Fasteners(
                id=name,
                product=kind.fastener.name,
                length=kind.fastener.length,
                shank=kind.fastener.shank,
                points=head[rows],
                direction=(x, y, z),
                fastened=nails.fastened[rows],
                into=nails.into[rows],
                fastens_sheets=kind.of_sheets,
                why=Why(f"nail.{kind.name.replace(' ', '-')}", kind.words + _counted(remarks), kind.source),
                on_site=kind.on_site,
            )
        )
    return tuple(made), tuple(findings)


def _left_out(label: str, batch: str, kind: Kind, lost: Bools, head: Floats) -> Finding:
    x, y, z = head[lost.argmax()].tolist()
    return Finding(
        "nail.left-out",
        Severity.WARN,
        f"{lost.sum()} of {len(lost)} fasteners ({kind.name}, {kind.fastener.name}) are left out: a run or a bore "
        "is in the way and they cannot be moved clear of it",
        label,
        (batch,),
        (x, y, z),
        source=kind.source,
    )


def _counted(remarks: Sequence[int]) -> str:
    return "".join(f"; {count} {words}" for count, words in zip(remarks, _REMARKS, strict=True) if count)
