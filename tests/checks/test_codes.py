"""The table of codes and what the checks raise are the same."""

from __future__ import annotations

import re
import string
from dataclasses import replace
from pathlib import Path

import pytest

import panelgen.checks
from panelgen.checks import CODES
from panelgen.checks.codes import found, named
from panelgen.geometry.frames import Frame
from panelgen.model import Severity
from tests.checks.builders import panel, stud

MODULES = sorted(Path(panelgen.checks.__file__).parent.rglob("*.py"))


def test_every_code_is_raised_and_every_code_raised_is_in_the_table() -> None:
    text = "".join(module.read_text(encoding="utf-8") for module in MODULES if not module.name.endswith("codes.py"))
    quoted = set(re.findall(r'"([a-z]+\.[a-z]+)"', text))
    assert quoted == set(CODES)


@pytest.mark.parametrize("code", CODES.values(), ids=lambda code: code.code)
def test_rows_say_what_is_wrong_and_what_to_do(code: object) -> None:
    assert re.fullmatch(r"[a-z]+\.[a-z]+", code.code)
    assert len(code.meaning.split()) >= 4
    assert code.meaning != code.words
    fields = [name for _, name, _, _ in string.Formatter().parse(code.words) if name]
    assert len(fields) == len(set(fields))
    assert not re.search(r"\d", code.words)


def test_found_fills_the_words_and_the_place_in_the_house() -> None:
    moved = replace(panel(), frame=Frame((1000.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
    finding = found(
        "member.short",
        moved,
        parts=("a",),
        point=(10.0, 20.0, 30.0),
        value=1,
        severity=Severity.NOTE,
        member="stud 1W01-01",
    )
    assert finding.words.startswith("stud 1W01-01 is shorter")
    assert finding.house_point == pytest.approx((1030.0, 10.0, 20.0))
    assert (finding.severity, finding.panel) == (Severity.NOTE, "1W01")


def test_sticks_are_called_by_role_and_mark() -> None:
    assert named(stud(100.0)) == "stud stud@100"
