"""The verbs, and narrowing down to some panels."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from panelgen import api
from panelgen.errors import BadValueError, SpecError
from panelgen.model import Finding, Severity
from tests import specs
from tests.factories import small_house


def finding(panel: str) -> Finding:
    return Finding("test.code", Severity.WARN, "words", panel)


def test_spec_is_loaded_designed_and_checked(tmp_path: Path) -> None:
    file = tmp_path / "house.yaml"
    file.write_text(specs.too_wide(), encoding="utf-8")
    house = api.design(api.load(file))
    assert "header.none" in {finding.code for finding in api.check(house)}


def test_every_problem_of_a_file_is_raised_at_once(tmp_path: Path) -> None:
    file = tmp_path / "house.yaml"
    file.write_text(specs.misspelt().replace("sill: 36", "sill: -36"), encoding="utf-8")
    with pytest.raises(SpecError) as raised:
        api.load(str(file))
    assert len(raised.value.problems) >= 2


def test_panels_are_picked_in_the_order_of_the_house() -> None:
    house = small_house(3)
    assert [panel.label for panel in api.pick(house, ["1W03", "1W01", "1W03"])] == ["1W01", "1W03"]
    assert api.pick(house) == house.panels


def test_unknown_label_names_the_ones_there_are() -> None:
    with pytest.raises(BadValueError, match="no panel is called '1w01'; choose from 1W01, 1W02"):
        api.pick(small_house(2), ["1w01"])


def test_findings_about_the_house_go_with_every_panel() -> None:
    house = small_house(2)
    findings = [finding("1W01"), finding("1W02"), finding("")]
    assert api.about(house.panels[:1], findings) == (findings[0], findings[2])


def test_findings_of_the_design_are_among_those_of_the_check() -> None:
    house = replace(small_house(1), findings=(finding(""),))
    assert finding("") in api.check(house)
