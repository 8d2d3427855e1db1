"""Counts of parts and of findings."""

from __future__ import annotations

import pytest

from panelgen.report.totals import FindingCounts, count_findings, count_parts
from tests.report.houses import BORE, HEAVY, REMARK, SHORT, WAIVED, house


def test_parts_are_counted_over_the_panels_given() -> None:
    both = count_parts(house().panels)
    one = count_parts(house().panels[:1])
    assert (both.panels, both.members, both.sheets, both.openings) == (2, 4, 0, 0)
    assert (one.panels, one.members) == (1, 2)


def test_nails_that_the_crew_drives_are_left_out() -> None:
    assert count_parts(house().panels).nails == 6


def test_runs_through_two_panels_count_once() -> None:
    assert count_parts(house().panels).runs == 2


def test_mass_is_volume_times_density() -> None:
    # Four 2x6 studs 96 in. long at 450 kg/m3.
    wood = 4 * 0.0381 * 0.1397 * 2.4384 * 450
    assert count_parts(house().panels).mass == pytest.approx(wood)


def test_waived_findings_do_not_stand() -> None:
    assert count_findings([BORE, HEAVY, SHORT, REMARK, WAIVED]) == FindingCounts(stop=2, warn=1, note=1, waived=1)
