"""Sorts a table of nails into batches of one kind and direction, each with the reason for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from panelgen.design.fastening.clearance import clear_of_services
from panelgen.design.fastening.lines import Kind, Nails
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools, Rods
from panelgen.model import Fasteners, Finding, Severity, Why

__all__ = ["Nailed", "batches"]

Nailed = tuple[tuple[Fasteners, ...], tuple[Finding, ...]]
"""The nails and screws of a panel, and what is to be said of them."""

_DECIMALS = 9
"""Directions that agree so far are one direction."""

_REMARKS = ("moved beside services", "left out beside services", "nearer to a sheet's edge than scheduled")


def batches(
    labels: Sequence[str], panel: Ints, nails: Nails, close: Bools, kinds: Sequence[Kind], services: Rods, of: Ints
) -> list[Nailed]:
    """For each panel its nails that keep off its services, and what had to be left out for that.

    There is a batch for each kind and direction, kinds in order. `Nails.kind` are indices of `kinds`.
    `panel` (n,) numbers the panel of each nail, and `of` (s,), ascending, that of each of `services`.
    `close` (n,) says which nails are nearer to a sheet's edge than scheduled; the reasons count these,
    and the nails that were moved or left out.
    """
    drive = np.round(nails.drive, _DECIMALS) + 0.0
    order = np.lexsort((drive[:, 2], drive[:, 1], drive[:, 0], nails.kind, panel))
    nails, drive, close, panel = nails.take(order), drive.take(order, axis=0), close[order], panel[order]
    length = np.array([kind.fastener.length for kind in kinds])[nails.kind]
    radius = np.array([kind.fastener.shank / 2 for kind in kinds])[nails.kind]
    head, moved, lost = clear_of_services(nails, length, radius, panel, services, of)
    turns = np.logical_or.reduce(drive[1:] != drive[:-1], axis=1)
    turns |= (nails.kind[1:] != nails.kind[:-1]) | (panel[1:] != panel[:-1])
    starts = np.concatenate(([0], np.flatnonzero(turns) + 1))
    counts = [np.add.reduceat(remark, starts, dtype=np.int64).tolist() for remark in (moved, lost, close)]
    codes, directions, places = nails.kind[starts].tolist(), drive[starts].tolist(), panel[starts].tolist()
    numbers: Counter[tuple[int, int]] = Counter()
    lots: list[tuple[list[Fasteners], list[Finding]]] = [([], []) for _ in labels]
    for n, (start, stop) in enumerate(pairwise([*starts.tolist(), len(nails)])):
        kind, label = kinds[codes[n]], labels[places[n]]
        made, findings = lots[places[n]]
        numbers[places[n], codes[n]] += 1
        name = f"{label}/{kind.name}-{numbers[places[n], codes[n]]}"
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
    return [(tuple(made), tuple(findings)) for made, findings in lots]


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
    if not any(remarks):
        return ""
    return "".join(f"; {count} {words}" for count, words in zip(remarks, _REMARKS, strict=True) if count)
