"""Branches and fittings that are not on the run they belong to, or that its size does not have."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate, pairwise

from panelgen.catalog import ServiceSize
from panelgen.spec.crosscheck.outsides import house_path, outside_diameter
from panelgen.spec.crosscheck.survey import TOLERANCE, Place, Survey
from panelgen.spec.faults import Fault, pick
from panelgen.spec.lines import Path
from panelgen.spec.services import FittingSpec, RunSpec

__all__ = ["bad_branches", "bad_fittings", "round_on_edge"]


def bad_branches(survey: Survey) -> Iterator[Fault]:
    """A run that branches off another starts on it: no farther from its centre line than its outside."""
    runs = {run.id: run for run in reversed(survey.house.runs)}
    rings = dict.fromkeys(_in_rings(runs))
    for n, run in enumerate(survey.house.runs):
        parent = runs.get(run.branch_of or "")
        if parent is None:
            continue
        if run.id in rings:
            words = "a run cannot branch off itself, nor off its own branch"
            yield Fault(("runs", n, "branch_of"), words, "name the run it starts on", repr(parent.id))
            continue
        path, trunk, diameter = house_path(survey, run), house_path(survey, parent), outside_diameter(survey, parent)
        if path and trunk and diameter:
            away = min(_distance(path[0], a, b) for a, b in pairwise(trunk))
            if away > diameter / 2 + TOLERANCE:
                words = (
                    f"run {run.id} branches off run {parent.id}, but starts {survey.text(away)} from its centre line"
                )
                yield Fault(("runs", n, "path", 0), words, "start it on that run, or correct branch_of")


def bad_fittings(survey: Survey) -> Iterator[Fault]:
    """A fitting is one that the run's size has, on the run; an elbow is at a bend."""
    for n, run in enumerate(survey.house.runs):
        size = survey.catalog.service_sizes.get(run.size or "")
        for k, fitting in enumerate(run.fittings):
            path: Path = ("runs", n, "fittings", k)
            if run.size is None:
                words = "fittings come with a size, and this run gives only a diameter"
                yield Fault((*path, "kind"), words, "give the run a size from the catalog", fitting.kind)
            elif size is not None:
                yield from _unsuited(survey, path, fitting, size)
                yield from _misplaced(survey, path, fitting, run)


def round_on_edge(survey: Survey) -> Iterator[Fault]:
    """Only a rectangular size lies on edge."""
    for n, run in enumerate(survey.house.runs):
        size = survey.catalog.service_sizes.get(run.size or "")
        known = size is not None or run.diameter is not None
        if known and run.lay == "on edge" and (size is None or size.section is None):
            yield Fault(("runs", n, "lay"), "only a rectangular size lies on edge", "leave it out", run.lay)


def _in_rings(runs: Mapping[str, RunSpec]) -> list[str]:
    """Ids of the runs that branch off themselves, at once or by way of others. Every run is passed but once."""
    rings: list[str] = []
    settled: dict[str, None] = {}
    for name in runs:
        way: dict[str, None] = {}
        here = name
        while here in runs and here not in settled and here not in way:
            way[here] = None
            here = runs[here].branch_of or ""
        if here in way:
            names = list(way)
            rings += names[names.index(here) :]
        settled |= way
    return rings


def _unsuited(survey: Survey, path: Path, fitting: FittingSpec, size: ServiceSize) -> Iterator[Fault]:
    kinds = survey.catalog.services.fitting_kinds(size)
    if fitting.kind not in kinds:
        remedy = pick(fitting.kind, kinds) if kinds else "leave it out: this size has no fittings"
        yield Fault((*path, "kind"), f"the catalog has no {fitting.kind} for {size.name}", remedy, fitting.kind)


def _misplaced(survey: Survey, path: Path, fitting: FittingSpec, run: RunSpec) -> Iterator[Fault]:
    points, diameter = house_path(survey, run), outside_diameter(survey, run)
    if not points or not diameter:
        return
    along = list(accumulate((math.dist(a, b) for a, b in pairwise(points)), initial=0.0))
    at = along[-1] * fitting.share if fitting.share is not None else fitting.at
    field = "at" if fitting.share is None else "share"
    if at is None or at > along[-1] + TOLERANCE:
        words = f"this is beyond the end of run {run.id}, which is {survey.text(along[-1])} long"
        yield Fault((*path, field), words, "measure along the run from its first point", survey.text(at or 0.0))
    elif fitting.kind == "elbow" and all(abs(at - place) > diameter for place in _bends(points, along)):
        words = f"run {run.id} does not turn here"
        yield Fault((*path, field), words, "put an elbow at a point where the run turns", survey.text(at))


def _bends(points: Sequence[Place], along: Sequence[float]) -> list[float]:
    return [
        along[k]
        for k in range(1, len(points) - 1)
        if math.dist(points[k - 1], points[k + 1]) < along[k + 1] - along[k - 1] - TOLERANCE
    ]


def _distance(point: Place, a: Place, b: Place) -> float:
    """From a point to the straight line between two others."""
    length = math.dist(a, b)
    along = sum((p - s) * (e - s) for p, s, e in zip(point, a, b, strict=True)) / max(length, TOLERANCE)
    share = min(1.0, max(0.0, along / max(length, TOLERANCE)))
    return math.dist(point, [s + (e - s) * share for s, e in zip(a, b, strict=True)])
