"""Changes to the text of a spec: what is asked for changes, and nothing else does."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.errors import BadValueError, SpecError
from panelgen.spec.edit import with_item, with_value
from panelgen.spec.flow import flow_text
from panelgen.spec.lines import Path
from panelgen.spec.tree import read_tree
from tests.project.tree import ROOT

SPEC = """\
# A house.
unit: in   # inches

runs:
  - {id: P1, size: nm-12/2, path: [[1, 2, cavity], [3, 4, cavity]]}  # kitchen
  # the second
  - id: P2
    path:
      - [6.5 ft, 18, cavity] # up
      - [6.5 ft, 84, cavity]

# The boxes.
boxes: []
sleeves:
'odd key': 'it''s'
"""


def changed_lines(before: str, after: str) -> tuple[list[str], list[str]]:
    """Lines that only one of the texts has, in order."""
    old, new = before.splitlines(), after.splitlines()
    return [line for line in old if line not in new], [line for line in new if line not in old]


def test_a_value_is_replaced_where_it_stands() -> None:
    assert changed_lines(SPEC, with_value(SPEC, ("unit",), "mm")) == (["unit: in   # inches"], ["unit: mm   # inches"])


def test_a_value_deep_in_brackets_and_one_deep_in_blocks() -> None:
    once = with_value(SPEC, ("runs", 0, "path", 1, 0), "3 1/2 in")
    old, new = changed_lines(SPEC, once)
    assert new == [line.replace("[3, 4", "[3 1/2 in, 4") for line in old]
    assert changed_lines(SPEC, with_value(SPEC, ("runs", 1, "path", 0, 1), 24)) == (
        ["      - [6.5 ft, 18, cavity] # up"],
        ["      - [6.5 ft, 24, cavity] # up"],
    )


def test_a_whole_list_is_replaced() -> None:
    after = with_value(SPEC, ("runs", 1, "path"), [[1, 2, "cavity"], [3, 4, 5.5], [6, 7, 8]])
    assert after == SPEC.replace(
        "- [6.5 ft, 18, cavity] # up\n      - [6.5 ft, 84, cavity]",
        "- [1, 2, cavity]\n      - [3, 4, 5.5]\n      - [6, 7, 8]",
    )


def test_a_key_that_is_missing_is_added_to_its_mapping() -> None:
    assert with_value(SPEC, ("rules",), "irc-2021") == f"{SPEC}rules: irc-2021\n"
    assert "size: nm-12/2, path: [[1, 2, cavity], [3, 4, cavity]], bend: 5}" in with_value(SPEC, ("runs", 0, "bend"), 5)
    assert "- [6.5 ft, 84, cavity]\n    bend: 5\n" in with_value(SPEC, ("runs", 1, "bend"), 5)


def test_an_item_is_added_below_the_last_one() -> None:
    after = with_item(SPEC, ("runs",), {"id": "P3", "path": [[1, 2, "framing"]]})
    assert after == SPEC.replace("84, cavity]\n", "84, cavity]\n  - {id: P3, path: [[1, 2, framing]]}\n")


def test_a_long_item_is_broken_into_lines() -> None:
    path = [[1234.5 + n, 2345.6, "framing"] for n in range(8)]
    after = with_item(SPEC, ("runs",), {"id": "P3", "system": "cold water", "path": path})
    added = after.removeprefix(SPEC[: SPEC.index("# The boxes") - 1]).splitlines()[:6]
    assert added[:4] == ["  - id: P3", "    system: cold water", "    path:", "      - [1234.5, 2345.6, framing]"]


@pytest.mark.parametrize("key", ["boxes", "sleeves", "backing"])
def test_an_item_is_added_to_a_list_that_is_empty_or_not_there(key: str) -> None:
    after = with_item(with_item(SPEC, (key,), {"id": "X"}), (key,), {"id": "Y"})
    assert read_tree(after).data[key] == [{"id": "X"}, {"id": "Y"}]
    assert [line for line in SPEC.splitlines() if line not in after.splitlines()] in ([], [f"{key}: []"], [f"{key}:"])


def test_text_without_a_last_newline_and_text_of_another_system() -> None:
    assert with_item("runs:\n- a", ("runs",), "b") == "runs:\n- a\n- b"
    assert with_item("runs:\r\n- a\r\nunit: mm\r\n", ("runs",), "b") == "runs:\r\n- a\r\n- b\r\nunit: mm\r\n"
    assert with_value("\ufeffunit: in\n", ("unit",), "mm") == "\ufeffunit: mm\n"


@pytest.mark.parametrize("indent", [None, 2])
def test_json_stays_json(indent: int | None) -> None:
    data = {"unit": "in", "runs": [{"id": "P1"}, {"id": "P2"}], "boxes": []}
    text = json.dumps(data, indent=indent)
    text = with_item(text, ("runs",), {"id": "P 3", "path": [[1, 2, "cavity"]]})
    text = with_value(with_item(text, ("boxes",), {"id": "B"}), ("rules",), "irc-2021")
    data["runs"].append({"id": "P 3", "path": [[1, 2, "cavity"]]})
    assert json.loads(text) == {**data, "boxes": [{"id": "B"}], "rules": "irc-2021"}


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (("runs", 7, "id"), r"runs\[7\].id leads nowhere"),
        (("runs", 0, "path", 9), r"runs\[0\].path\[9\] leads nowhere"),
        (("unit", "more"), "unit.more leads nowhere"),
    ],
)
def test_a_path_that_leads_nowhere_is_refused(path: Path, words: str) -> None:
    with pytest.raises(BadValueError, match=words):
        with_value(SPEC, path, 1)


def test_only_a_list_takes_items() -> None:
    with pytest.raises(BadValueError, match="unit is not a list"):
        with_item(SPEC, ("unit",), 1)


def test_what_an_alias_repeats_is_not_changed() -> None:
    text = "a: &x {size: 1}\nb: *x\n"
    with pytest.raises(BadValueError, match=r"b\.size cannot be changed by itself"):
        with_value(text, ("b", "size"), 2)


def test_a_text_that_cannot_be_read_is_refused_in_words() -> None:
    with pytest.raises(SpecError, match="line 2: this is not valid YAML"):
        with_value("a: [1", ("a",), 2)


words = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")) | st.just(" "), max_size=12)
plain = st.none() | st.booleans() | st.integers(-9999, 9999) | st.floats(-1e6, 1e6).map(lambda x: round(x, 3)) | words
values = st.recursive(plain, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(words, inner, max_size=3))


@given(value=values)
def test_flow_text_is_read_as_the_same_value(value: Any) -> None:
    assert read_tree(f"a: {flow_text(value)}").data == {"a": value}


EXAMPLE = (ROOT / "examples" / "tern-cottage.yaml").read_text(encoding="utf-8")


def places(data: Any, here: Path = ()) -> list[Path]:
    """Every path in a document."""
    keys = data.keys() if isinstance(data, dict) else range(len(data)) if isinstance(data, list) else ()
    return [place for key in keys for place in ((*here, key), *places(data[key], (*here, key)))]


PLACES = places(read_tree(EXAMPLE).data)


@settings(max_examples=60, deadline=None)
@given(path=st.sampled_from(PLACES), value=values)
def test_any_place_of_an_example_can_be_changed_and_comments_stay(path: Path, value: Any) -> None:
    expected = copy.deepcopy(read_tree(EXAMPLE).data)
    here = expected
    for key in path[:-1]:
        here = here[key]
    here[path[-1]] = value
    after = with_value(EXAMPLE, path, value)
    assert read_tree(after).data == expected
    line = read_tree(EXAMPLE).lines.at(path)
    assert after.splitlines()[: line - 1] == EXAMPLE.splitlines()[: line - 1]
