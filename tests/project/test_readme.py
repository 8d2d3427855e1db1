"""README.md opens with the job, gives two set-up commands, and what it shows works."""

from __future__ import annotations

import re

import pytest

from panelgen import api
from panelgen.model import House
from panelgen.spec.loader import loads
from tests.project import readme
from tests.project.tree import ROOT

COMMANDS = {"build", "check", "import", "joints", "route", "schedule", "schema", "thermal"}


def test_opens_with_the_job_in_one_paragraph() -> None:
    title, job, heading, *_ = readme.text().split("\n\n")
    assert title == "# panelgen"
    assert job.startswith("panelgen turns a house spec into")
    assert heading == "## Set up"


def test_set_up_is_exactly_two_single_line_commands() -> None:
    commands = readme.blocks("sh")
    assert len(commands) == 2
    assert [command for command in commands if "\n" in command] == []
    install_and_run, install_and_test = commands
    assert "panelgen build examples/" in install_and_run
    assert "pytest" in install_and_test


def test_ci_runs_the_test_command_of_the_readme() -> None:
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert lines[-1] == readme.blocks("sh")[1]


def test_example_of_the_first_command_is_shipped() -> None:
    match = re.search(r"build (examples/\S+) ", readme.blocks("sh")[0])
    assert match is not None
    assert (ROOT / match[1]).is_file()


def test_spec_shown_can_be_designed_and_is_clean() -> None:
    (spec,) = readme.blocks("yaml")
    house = api.design(loads(spec, "README.md"))
    assert len(house.panels) >= 4
    assert [finding for finding in api.check(house) if finding.severity == "stop"] == []


def test_python_shown_runs(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    (code,) = readme.blocks("python")
    monkeypatch.chdir(ROOT)
    scope: dict[str, object] = {}
    exec(compile(code, "README.md", "exec"), scope)
    lines = capsys.readouterr().out.splitlines()
    house = scope["house"]
    assert isinstance(house, House)
    assert len(lines) == len(api.check(house))


def test_every_command_is_in_the_table() -> None:
    assert set(re.findall(r"^\| `panelgen (\w+)", readme.text(), re.MULTILINE)) == COMMANDS
