"""The JSON report is stable: sorted keys, rounded numbers, a named layout."""

from __future__ import annotations

import json
from dataclasses import replace

from panelgen.model import Partition, SplitCost
from panelgen.report.record import SCHEMA, VERSION, report_json
from tests.report.houses import BORE, REMARK, WAIVED, house


def report(*findings: object) -> dict[str, object]:
    return json.loads(report_json(house(), house().panels, list(findings), "0.0.0"))


def test_top_level_keys() -> None:
    assert list(report()) == [
        "assumptions", "counts", "findings", "house", "panels", "partitions", "rules", "schema", "tool", "totals",
        "trusses", "version",
    ]  # fmt: skip
    assert (report()["schema"], report()["version"], report()["tool"]) == (SCHEMA, VERSION, "0.0.0")


def test_a_finding_has_every_key_in_order() -> None:
    (finding,) = report(BORE)["findings"]
    assert finding == {
        "code": "bore.edge",
        "house_point": [1282.7, 0.0, 914.4],
        "limit": 15.875,
        "panel": "1W02",
        "parts": ["1W02-1", "feed"],
        "point": [1282.7, 914.4, 20.0],
        "proposal": None,
        "severity": "stop",
        "source": "IRC R602.6",
        "unit": "mm",
        "value": 9.525,
        "waived_by": "",
        "words": "The bore leaves too little wood at the edge of the stud.",
    }
    assert list(finding) == sorted(finding)


def test_numbers_are_rounded_and_never_minus_zero() -> None:
    (finding,) = report(replace(BORE, value=0.12345, limit=-0.0001))["findings"]
    assert finding["value"] == 0.123
    assert str(finding["limit"]) == "0.0"


def test_counts_and_assumptions() -> None:
    assert report(BORE, REMARK, WAIVED)["counts"] == {"note": 1, "stop": 1, "waived": 1, "warn": 0}
    assert report()["assumptions"] == [
        {"field": "shop.line_height", "source": "default of the spec", "value": "3048 mm"}
    ]


def test_how_each_wall_is_split() -> None:
    split = Partition("N1", 0.0, 6096.0, (2438.4,), 9, 492, 3, SplitCost(2, 5.01234, 104424.5), least=2)
    document = json.loads(report_json(replace(house(), partitions=(split,)), (), (), "0.0.0"))
    assert document["partitions"] == [
        {
            "across": [],
            "candidates": 9,
            "cost": {"panels": 2, "squared_masses": 104424.5, "waste": 5.012},
            "fewest": 3,
            "gap": 0,
            "joints": [2438.4],
            "kind": "wall",
            "least": 2,
            "legal": 492,
            "length": 6096.0,
            "method": "exact: the best of all legal splits",
            "panels": 2,
            "start": 0.0,
            "wall": "N1",
        }
    ]


def test_ends_in_a_newline_and_is_ascii() -> None:
    text = report_json(replace(house(), name="Café"), (), (), "0.0.0")
    assert text.endswith("}\n")
    assert text.isascii()
    assert json.loads(text)["house"] == "Café"
