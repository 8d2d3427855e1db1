"""Published tables and worked examples against the tables and calculations here, counted by source.

Run with ``python -m tests.acceptance.house_reference_tables``. The tests that cite a source are run here; a row of its
table, or one result of its example, is one check. Prints checks passed by source and, last, the total; exits 1 where
one fails or a source has none.
"""

from __future__ import annotations

import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

SPANS, THERMAL = "tests/catalog/test_spans_irc.py", "tests/catalog/test_thermal.py"
STUDS, ROOFS = "tests/catalog/test_studs_and_plates.py", "tests/design/roofs/test_framing.py"

SOURCES = {
    "steel square: common, hip, valley, 3/12 to 12/12": (
        "tests/geometry/test_roof_planes.py::test_lengths_for_a_foot_of_run_are_those_of_the_rafter_table",
        f"{ROOFS}::test_hips_and_valleys_rise_as_on_the_steel_square",
    ),
    "steel square: jacks at 16 and 24 in": (f"{ROOFS}::test_jacks_differ_by_the_figures_of_the_rafter_table",),
    "army carpentry text: worked rafter": (f"{ROOFS}::test_the_army_engineers_rafter",),
    "IRC R502.3.1(2), floor joist spans": (f"{SPANS}::test_floor_joists",),
    "NDS bending and L/360 on the same joists": (f"{SPANS}::test_floor_joists_follow_from_bending_and_bend",),
    "IRC R802.5.1(2), ceiling joist spans": (f"{SPANS}::test_ceiling_joists", f"{SPANS}::test_ceiling_joists_at_19_in"),
    "IRC R802.4.1(3), rafter spans": (f"{SPANS}::test_rafters",),
    "IRC R602.7(1) and R502.5(1), header spans": ("tests/catalog/test_headers_irc.py",),
    "IRC R602.3(5), stud spacing": (f"{STUDS}::test_stud_spacing", "tests/checks/structure/test_studs.py"),
    "city permit record: worked stud wall E-S1": ("tests/checks/structure/test_stud_design_permit.py",),
    "ISO 6946 combined method: worked wall E-T1": ("tests/plans/thermal/test_iso_6946_example.py",),
    "24 CFR 3280.509: framing shares": (f"{THERMAL}::test_framing_assumed_by_law",),
    "24 CFR 3280.509: restricted insulation": (
        f"{THERMAL}::test_restricted_insulation",
        f"{THERMAL}::test_loose_fill_that_tapers",
    ),
    "published R-values and air films": (
        f"{THERMAL}::test_published_r_values",
        f"{THERMAL}::test_air_films_of_a_wall_by_parallel_path",
    ),
    "framing shares of walls without and with openings": (
        "tests/plans/thermal/test_framing.py::test_a_wall_without_openings_is_near_the_shares_published_for_it",
        "tests/plans/thermal/test_framing.py::test_windows_make_it_what_is_measured_in_walls",
    ),
}


@dataclass
class Tally:
    """Outcomes of tests by their ids, parameters left out."""

    passed: Counter[str] = field(default_factory=Counter)
    failed: list[str] = field(default_factory=list)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Count one test: it passes once it was called, and fails at any stage."""
        if report.failed:
            self.failed.append(report.nodeid)
        elif report.when == "call" and report.passed:
            self.passed[report.nodeid.partition("[")[0]] += 1

    def of(self, places: tuple[str, ...]) -> int:
        """How many tests passed in some files, or of some functions."""
        return sum(count for test, count in self.passed.items() if test in places or test.partition("::")[0] in places)


def main() -> int:
    """Run and print."""
    tests = [str(ROOT / place) for places in SOURCES.values() for place in places]
    tally = Tally()
    pytest.main(["-q", "--no-header", "--no-summary", f"--rootdir={ROOT}", *tests], plugins=[tally])
    counts = {source: tally.of(places) for source, places in SOURCES.items()}
    for source, count in counts.items():
        print(f"{source:52s}{count:5d}")
    for test in tally.failed:
        print(f"failed: {test}")
    print(f"{sum(counts.values())} reference checks passed, {len(tally.failed)} failed, by {len(counts)} sources")
    return 0 if not tally.failed and all(counts.values()) else 1


if __name__ == "__main__":
    sys.exit(main())
