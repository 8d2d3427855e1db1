"""Fittings of runs, in house coordinates: elbows where pipe and duct turn, tees at branches, couplings.

Runs of a series that is bent have no elbows but those the spec asks for. Stock lengths are used whole, from
the start of the run and from each fitting that ends a length. A run without a catalog size has no fittings.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import inf, isfinite, radians, tan

from panelgen.catalog import Catalog, FittingKind, ServiceSize
from panelgen.geometry.frames import Vec3
from panelgen.geometry.polylines import Polyline
from panelgen.model import Finding, Fitting, ServiceRun, Severity, Why
from panelgen.spec.services import FittingSpec, RunSpec

__all__ = ["fittings_of"]

_EPS = 1e-3
_SHARPEST = 90.0
"""Degrees. An elbow that turns farther, which there is not, is drawn with the arms of one that turns so far."""


def fittings_of(
    specs: Sequence[RunSpec], runs: Sequence[ServiceRun], catalog: Catalog
) -> tuple[tuple[Fitting, ...], tuple[Finding, ...]]:
    """The fittings of all runs, run after run, and a finding for each turn that no elbow makes.

    `specs` and `runs` are the same runs in the same order.
    """
    branches: dict[str, list[ServiceRun]] = {}
    for run in runs:
        branches.setdefault(run.branch_of, []).append(run)
    fittings: list[Fitting] = []
    findings: list[Finding] = []
    for spec, run in zip(specs, runs, strict=True):
        if spec.size is None:
            continue
        fitter = _Fitter(run, spec, catalog.service_size(spec.size), catalog)
        fittings.extend(fitter.fit(branches.get(run.id, ())))
        findings.extend(fitter.findings)
    return tuple(fittings), tuple(findings)


class _Fitter:
    """Places the fittings of one run."""

    def __init__(self, run: ServiceRun, spec: RunSpec, size: ServiceSize, catalog: Catalog) -> None:
        self.findings: list[Finding] = []
        self._run = run
        self._spec = spec
        self._size = size
        self._tables = catalog.services
        self._series = catalog.services.series(size)
        self._way = Polyline.through(run.path)
        self._bent = spec.bend is not None or self._series.turns == "bend"

    def fit(self, branches: Sequence[ServiceRun]) -> list[Fitting]:
        """Every fitting of the run, along it."""
        placed = [*self._elbows(), *self._tees(branches), *self._asked_for()]
        placed += self._couplings(sorted(place for place, _ in placed))
        return [fitting for _, fitting in sorted(placed, key=lambda one: (one[0], one[1].id))]

    def _elbows(self) -> Iterator[tuple[float, Fitting]]:
        way = self._way
        asked = {self._bend_near(self._place(one)) for one in self._spec.fittings if one.kind == "elbow"}
        for corner in way.bends:
            if self._bent and corner not in asked:
                continue
            angle = way.turn(corner)
            turn = self._tables.turn(self._size, angle)
            words, source = f"turns {angle:.1f}°", self._series.cited
            if turn is not None:
                words, source = f"{words}: {turn.name}", turn.cited
            elif not self._bent:
                self.findings.append(self._no_elbow(corner, angle))
                angle = min(angle, _SHARPEST)
            fitting = self._made(
                "elbow", f"elbow-{corner}", way.along[corner], Why("fitting.turn", words, source), angle,
                way.directions[corner - 1], way.directions[corner], turn.name if turn else "elbow",
            )  # fmt: skip
            if fitting is not None:
                yield way.along[corner], fitting

    def _tees(self, branches: Sequence[ServiceRun]) -> Iterator[tuple[float, Fitting]]:
        """A tee where a branch starts on the way; an adapter where it starts at an end."""
        for branch in branches:
            place = self._way.nearest(branch.path[0])
            why = Why("fitting.branch", f"run {branch.id} starts here", f"spec runs {branch.id}")
            if _EPS < place < self._way.length - _EPS:
                aside = Polyline.through(branch.path).directions[0]
                fitting = self._made("tee", f"tee-{branch.id}", place, why, 90.0, other=aside)
            else:
                fitting = self._made("adapter", f"adapter-{branch.id}", place, why)
            if fitting is not None:
                yield place, fitting

    def _asked_for(self) -> Iterator[tuple[float, Fitting]]:
        for number, asked in enumerate(self._spec.fittings, start=1):
            if asked.kind == "elbow":
                continue
            place = self._place(asked)
            why = Why("fitting.spec", f"{asked.kind} asked for", f"spec runs {self._run.id}")
            angle = 90.0 if asked.kind == "tee" else 0.0
            fitting = self._made(asked.kind, f"{asked.kind}-spec-{number}", place, why, angle)
            if fitting is not None:
                yield place, fitting

    def _couplings(self, breaks: Sequence[float]) -> Iterator[tuple[float, Fitting]]:
        """Couplings wherever a length between two breaks is longer than the stock."""
        stock = self._series.stock
        if not isfinite(stock):
            return
        why = Why("fitting.stock", f"joins lengths of {stock:.0f} mm", self._series.cited)
        number = 0
        for low, high in pairwise([0.0, *breaks, self._way.length]):
            place = self._before_bends(low, low + stock)
            while place < high - _EPS:
                number += 1
                fitting = self._made("coupling", f"coupling-{number}", place, why)
                if fitting is not None:
                    yield place, fitting
                place = self._before_bends(place, place + stock)

    def _before_bends(self, low: float, place: float) -> float:
        """The place, drawn back to where a bend begins if it would lie in one; never back to `low`."""
        radius = self._run.bend_radius if self._bent else 0.0
        for corner in self._way.bends:
            reach = radius * tan(radians(min(self._way.turn(corner), 150.0)) / 2)
            at = self._way.along[corner]
            if low < at - reach and at - reach < place < at + reach:
                return at - reach
        return place

    def _place(self, asked: FittingSpec) -> float:
        return self._way.length * asked.share if asked.share is not None else asked.at or 0.0

    def _bend_near(self, place: float) -> int:
        return min(self._way.bends, key=lambda corner: abs(self._way.along[corner] - place), default=0)

    def _made(
        self,
        kind: FittingKind,
        name: str,
        place: float,
        why: Why,
        angle: float = 0.0,
        axis: Vec3 | None = None,
        other: Vec3 | None = None,
        trade_name: str = "",
    ) -> Fitting | None:
        """A fitting on the way; None where the size has none of its kind."""
        product = self._tables.fitting(self._size, kind)
        if product is None:
            return None
        run = self._run
        section = product.section
        if section is not None:
            if run.section is not None and run.section[0] < run.section[1]:
                section = section[::-1]
            section = (section[0] + 2 * run.insulation, section[1] + 2 * run.insulation)
        return Fitting(
            f"{run.id}/{name}",
            run.id,
            kind,
            f"{self._size.name} {trade_name or kind}",
            self._way.point_at(place),
            axis or self._way.directions[self._way.stretch_at(place)],
            product.diameter + 2 * run.insulation,
            2 * product.reach(angle),
            why,
            other,
            angle if kind == "elbow" else 0.0,
            section,
        )

    def _no_elbow(self, corner: int, angle: float) -> Finding:
        turns = [turn for turn in self._tables.turns if turn.series == self._size.series]
        nearest = min(turns, key=lambda turn: abs(turn.angle - angle), default=None)
        return Finding(
            "fitting.angle",
            Severity.WARN,
            f"run {self._run.id} turns {angle:.1f}° and no {self._size.series} fitting does: "
            "change the turn, or make it of two fittings",
            parts=(self._run.id,),
            house_point=self._way.points[corner],
            value=angle,
            limit=nearest.angle if nearest else inf,
            unit="degrees",
            source=nearest.cited if nearest else self._series.cited,
        )
