"""`panelgen check`: the clean house exits 0; the faulty one exits 1 and names exactly the planted faults.

Run with ``python -m tests.acceptance.main_check_exit_codes``. The planted faults are listed beside the
faulty example as ``faults``: a list of ``{code, panel, part}``.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any, NamedTuple

import yaml

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
PLANTED = 6


class Fault(NamedTuple):
    """A stop finding by its code and the part it is about."""

    code: str
    panel: str
    part: str


def check(example: str) -> tuple[int, dict[str, Any]]:
    """Exit code and JSON report of `panelgen check`."""
    command = [sys.executable, "-m", "panelgen", "check", str(EXAMPLES / example), "--json"]
    result = subprocess.run(command, capture_output=True, text=True, check=False)
    sys.stderr.write(result.stderr)
    return result.returncode, json.loads(result.stdout)


def about(finding: dict[str, Any]) -> set[Fault]:
    """The faults that a finding may stand for: its code on each of its parts."""
    return {Fault(finding["code"], finding["panel"], part) for part in finding["parts"]}


def planted() -> set[Fault]:
    """The faults listed beside the faulty example."""
    listed = yaml.safe_load((EXAMPLES / "tern-cottage-faulty.faults.yaml").read_text(encoding="utf-8"))
    return {Fault(**row) for row in listed["faults"]}


def main() -> int:
    """Print what was found and what is short."""
    clean_code, clean = check("tern-cottage.yaml")
    faulty_code, faulty = check("tern-cottage-faulty.yaml")
    expected = planted()
    stops = [finding for finding in faulty["findings"] if finding["severity"] == "stop" and not finding["waived_by"]]
    missed = sorted(expected.difference(*map(about, stops)))
    unexpected = [stop for stop in stops if expected.isdisjoint(about(stop))]
    for fault in missed:
        print(f"missed: {fault}")
    for stop in unexpected:
        print(f"not planted: {stop['code']} {stop['panel']} {stop['parts']}: {stop['words']}")
    print(f"clean: exit {clean_code}, {clean['counts']['stop']} stops; faulty: exit {faulty_code}, {len(stops)} stops")
    print(f"planted faults named: {len(expected) - len(missed)} of {len(expected)}, others: {len(unexpected)}")
    exact = len(expected) == PLANTED and not missed and not unexpected
    return 0 if exact and (clean_code, faulty_code) == (0, 1) else 1


if __name__ == "__main__":
    sys.exit(main())
