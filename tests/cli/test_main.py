"""The command line: exit codes, what is printed where, and that bad input writes nothing."""

from __future__ import annotations

import json
import subprocess
import sys
import zipfile
from pathlib import Path

import jsonschema
import pytest
import yaml

import panelgen
from panelgen import api
from panelgen.cli import main
from panelgen.files import MARKER
from tests import specs
from tests.intake.drawing import Drawing, small_house

Captured = pytest.CaptureFixture[str]


@pytest.fixture
def clean(tmp_path: Path) -> str:
    return written(tmp_path / "clean.yaml", specs.clean())


@pytest.fixture
def faulty(tmp_path: Path) -> str:
    return written(tmp_path / "faulty.yaml", specs.too_wide())


def written(file: Path, text: str) -> str:
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_clean_house_exits_0_and_prints_the_table(clean: str, capsys: Captured) -> None:
    assert main(["check", clean]) == 0
    out, err = capsys.readouterr()
    assert out.startswith("Garden room (rules irc-2021)\n4 panels, ")
    assert "Findings: 0 stop" in out
    assert "licensed engineer" in out
    assert err == ""


def test_stop_finding_exits_1_and_is_named(faulty: str, capsys: Captured) -> None:
    assert main(["check", faulty]) == 1
    assert "header.none" in capsys.readouterr().out


def test_json_is_the_whole_of_the_output(faulty: str, capsys: Captured) -> None:
    assert main(["check", faulty, "--json"]) == 1
    report = json.loads(capsys.readouterr().out)
    assert report["tool"] == panelgen.__version__
    assert "header.none" in {finding["code"] for finding in report["findings"]}


def test_assumptions_are_counted_and_listed_when_asked(clean: str, capsys: Captured) -> None:
    main(["check", clean])
    assert "list them with --assumptions" in capsys.readouterr().out
    main(["check", clean, "--assumptions"])
    assert "  shop.shortest_panel: " in capsys.readouterr().out


def test_one_panel_is_reported_alone(faulty: str, capsys: Captured) -> None:
    main(["check", faulty, "--json"])
    whole = json.loads(capsys.readouterr().out)
    stopped = {finding["panel"] for finding in whole["findings"] if finding["severity"] == "stop"}
    free = next(label for label in whole["panels"] if label not in stopped)
    assert main(["check", faulty, "--json", "--panel", free]) == 0
    part = json.loads(capsys.readouterr().out)
    assert part["panels"] == [free]
    assert part["totals"]["panels"] == 1
    assert {finding["panel"] for finding in part["findings"]} <= {free, ""}


def test_check_writes_a_page_and_topics_where_asked(faulty: str, tmp_path: Path, capsys: Captured) -> None:
    page, topics = tmp_path / "f.html", tmp_path / "f.bcf"
    assert main(["check", faulty, "--html", str(page), "--bcf", str(topics)]) == 1
    assert capsys.readouterr().out.endswith(f"{page}\n{topics}\n")
    assert "header.none" in page.read_text(encoding="utf-8")
    assert zipfile.is_zipfile(topics)


def test_json_stays_alone_where_files_are_written_too(faulty: str, tmp_path: Path, capsys: Captured) -> None:
    main(["check", faulty, "--json", "--html", str(tmp_path / "f.html")])
    assert json.loads(capsys.readouterr().out)["house"]
    assert (tmp_path / "f.html").exists()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["check", "nowhere.yaml"], "nowhere.yaml"),
        (["check", "misspelt.yaml"], "line 3: units"),
        (["check", "clean.yaml", "--panel", "../1W01"], "no panel is called '../1W01'"),
        (["schedule", "clean.yaml", "--panel", "9W99"], "no panel is called '9W99'"),
        (["check", "clean.yaml", "--html", "no-folder/f.html"], "no-folder/f.html"),
        (["check", "clean.yaml", "--bcf", "no-folder/f.bcf"], "no-folder/f.bcf"),
        (["check", "clean.yaml", "--html", "./clean.yaml"], "is the house spec itself"),
        (["build", "misspelt.yaml", "--out", "out"], "line 3: units"),
        (["build", "clean.yaml", "--out", "out", "--panel", "9W99"], "no panel is called '9W99'"),
        (["build", "clean.yaml", "--out", "taken"], "did not write"),
        (["build", "clean.yaml", "--out", "clean.yaml/out"], "clean.yaml"),
        (["import", "nowhere.ifc", "--out", "new.yaml"], "nowhere.ifc"),
        (["import", "nowhere.ifc", "--out", "clean.yaml"], "is there already"),
    ],
)
def test_bad_input_exits_2_in_words_and_writes_nothing(
    arguments: list[str], words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    written(tmp_path / "clean.yaml", specs.clean())
    written(tmp_path / "misspelt.yaml", specs.misspelt())
    (tmp_path / "taken").mkdir()
    written(tmp_path / "taken" / "letter.txt", "dear")
    before = sorted(tmp_path.rglob("*"))
    monkeypatch.chdir(tmp_path)
    assert main(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("panelgen: ")
    assert words in err
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("arguments", [[], ["chek"], ["check"], ["build", "house.yaml"], ["check", "a", "--jason"]])
def test_wrong_arguments_exit_2(arguments: list[str], capsys: Captured) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(arguments)
    assert stopped.value.code == 2
    assert "usage: panelgen" in capsys.readouterr().err


def test_an_unforeseen_exception_keeps_its_traceback(clean: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(path: Path) -> None:
        raise RuntimeError("a fault of ours")

    monkeypatch.setattr(api, "load", fails)
    with pytest.raises(RuntimeError, match="a fault of ours"):
        main(["check", clean])


def test_interruption_exits_130(clean: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(path: Path) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(api, "load", interrupted)
    assert main(["check", clean]) == 130


def test_thermal_prints_a_table_or_json(clean: str, capsys: Captured) -> None:
    assert main(["thermal", clean]) == 0
    table = capsys.readouterr().out
    assert main(["thermal", clean, "--json"]) == 0
    report = json.loads(capsys.readouterr().out)
    labels = [row["panel"] for row in report["panels"]]
    assert [line.split()[0] for line in table.splitlines()[1 : len(labels) + 2]] == [*labels, "all"]
    cover = report["insulation"]
    assert [row["panel"] for row in cover["panels"]] == labels
    assert f"{cover['house']['insulated_m2']:.2f}" in table


def test_schedule_prints_what_services_take_as_csv(clean: str, capsys: Captured) -> None:
    assert main(["schedule", clean]) == 0
    head, *rows = capsys.readouterr().out.splitlines()
    assert head == "panel,item,product,count,length_mm"
    assert f",run,nm-12/2,1,{round(5 * 304.8)}" in rows  # the one cable, 24 to 84 in.
    assert main(["schedule", clean, "--panel", rows[0].split(",")[0]]) == 0
    assert capsys.readouterr().out.splitlines()[0] == head


def test_schema_describes_a_spec_that_loads(capsys: Captured) -> None:
    assert main(["schema"]) == 0
    schema = json.loads(capsys.readouterr().out)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(yaml.safe_load(specs.clean()), schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(yaml.safe_load(specs.misspelt()), schema)


def test_import_writes_a_spec_that_can_be_built_and_says_what_is_left(tmp_path: Path, capsys: Captured) -> None:
    drawing = Drawing()
    small_house(drawing)
    drawing.wall("Tiles", thickness=13)
    spec = tmp_path / "house.yaml"
    assert main(["import", str(drawing.save(tmp_path / "model.ifc")), "--out", str(spec)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[:2] == [str(spec), "walls: 5 of 6, openings: 3 of 3"]
    assert [line for line in lines if line.startswith("  left out: a finish") and line.endswith(": wall Tiles")]
    assert len(api.pick(api.design(api.load(spec)))) >= 5


def test_build_writes_models_in_spite_of_a_stop_finding(faulty: str, tmp_path: Path, capsys: Captured) -> None:
    out = tmp_path / "out"
    assert main(["build", faulty, "--out", str(out)]) == 1
    printed = capsys.readouterr().out
    files = [str(file) for file in sorted(out.rglob("*")) if file.is_file() and file.name != MARKER]
    assert sorted(printed.split("\n\n")[0].splitlines()) == files
    assert (out / "findings.txt").read_text(encoding="utf-8") in printed


def test_reader_that_has_seen_enough_is_no_error(clean: str) -> None:
    command = f"set -o pipefail; {sys.executable} -m panelgen check {clean} --json | true"
    result = subprocess.run(["bash", "-c", command], capture_output=True, text=True, check=False)
    assert (result.returncode, result.stderr) == (0, "")
