"""The verdicts on fittings, boxes and pairs of runs agree with a solid modeller on random pairs."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.checks.oracle import Agreement
from tests.checks.oracle_services import compare_boxes, compare_fittings, compare_run_pairs


@pytest.mark.parametrize("compare", [compare_fittings, compare_boxes, compare_run_pairs])
def test_services_against_the_modeller(compare: Callable[[int, int], Agreement]) -> None:
    agreement = compare(41, 60)
    assert agreement.disputed == []
    assert agreement.decided >= 50
    assert 0.15 < agreement.meet / agreement.decided < 0.85
