"""`panelgen route`: what it prints, what it writes, and its exit codes."""

from __future__ import annotations

from pathlib import Path

import pytest

from panelgen.cli import main
from panelgen.spec.loader import load
from tests import specs

Captured = pytest.CaptureFixture[str]
POWER = ["--wall", "north", "--system", "power", "--size", "nm-12/2", "--from", "36,12,cavity", "--to", "90,18,cavity"]


@pytest.fixture
def house(tmp_path: Path) -> Path:
    path = tmp_path / "house.yaml"
    path.write_text(specs.clean(), encoding="utf-8")
    return path


def test_a_route_is_printed_and_written(house: Path, tmp_path: Path, capsys: Captured) -> None:
    out = tmp_path / "out.yaml"
    assert main(["route", str(house), *POWER, "--id", "P7", "--out", str(out)]) == 0
    printed = capsys.readouterr().out
    assert printed.startswith("P7: power nm-12/2 in wall north, 60 in, 1 bend\n  36 in along, 12 in up, cavity\n")
    assert "brings no finding" in printed
    assert printed.endswith(f"{out}\n")
    assert load(out).runs[-1].id == "P7"


def test_bores_are_listed_with_their_limits(house: Path, capsys: Captured) -> None:
    ends = ["--from", "36,30,framing", "--to", "7 ft,30,framing"]
    assert main(["route", str(house), "--wall", "north", "--system", "power", "--size", "nm-12/2", *ends]) == 0
    printed = capsys.readouterr().out
    assert printed.startswith("R1: power")
    assert "bore 11/16 in of 2 3/16 in allowed through stud" in printed


def test_no_route_exits_1_says_why_and_writes_nothing(house: Path, tmp_path: Path, capsys: Captured) -> None:
    out = tmp_path / "out.yaml"
    arguments = [word.replace("nm-12/2", "duct-4") for word in POWER]
    assert main(["route", str(house), *arguments, "--out", str(out)]) == 1
    assert capsys.readouterr().out.startswith("no route:\n  the run takes 101.6 mm of depth")
    assert not out.exists()


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (["--wall", "attic"], "no wall is called 'attic'"),
        (["--from", "36,12"], "is not a point"),
        (["--from", "36,twelve,cavity"], "is not a length"),
        (["--system", "steam"], "system"),
        (["--out", "house.yaml"], "is the house spec itself"),
    ],
)
def test_bad_input_exits_2_in_words(
    changes: list[str], words: str, house: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    monkeypatch.chdir(house.parent)
    assert main(["route", "house.yaml", *POWER, *changes]) == 2
    assert words in capsys.readouterr().err
    assert house.read_text(encoding="utf-8") == specs.clean()


def test_a_size_or_a_diameter_is_asked_for(house: Path, capsys: Captured) -> None:
    with pytest.raises(SystemExit):
        main(["route", str(house), *POWER, "--diameter", "1/2 in"])
    assert "not allowed with argument" in capsys.readouterr().err
