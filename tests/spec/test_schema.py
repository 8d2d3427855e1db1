from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest

from panelgen.spec import json_schema
from panelgen.spec.schema import keys_at
from panelgen.spec.tree import read_tree

EXAMPLES = [
    file
    for file in sorted((Path(__file__).parents[2] / "examples").rglob("*.yaml"))
    if not file.name.endswith(".faults.yaml")
]
VALIDATOR = jsonschema.Draft202012Validator


def test_the_schema_is_valid_json_schema() -> None:
    schema = json_schema()
    assert schema["$schema"] == VALIDATOR.META_SCHEMA["$id"]
    VALIDATOR.check_schema(schema)


def test_it_is_a_new_dictionary_every_time() -> None:
    json_schema().clear()
    assert json_schema()["title"] == "HouseSpec"


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.name)
def test_it_accepts_the_shipped_examples(file: Path) -> None:
    VALIDATOR(json_schema()).validate(read_tree(file.read_text(encoding="utf-8")).data)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("house: Test house", "house: Test house\nhoose: 1"),
        ("panelgen: 1", "panelgen: 2"),
        ("stock: 2x4", "stocks: 2x4"),
        ("kind: door", "kind: gate"),
        ("start: [4000, 0]", "start: [4000]"),
        ("width: 900", "width: 0"),
        ("sill: 900", "sill: -1"),
        ("30 psf", "-1"),
        ("id: K1", "id: a/b"),
        (", reason: grab bar", ""),
    ],
)
def test_it_refuses_what_the_loader_refuses(good: str, edited: Callable[..., str], old: str, new: str) -> None:
    validator = VALIDATOR(json_schema())
    validator.validate(read_tree(good).data)
    assert not validator.is_valid(read_tree(edited(old, new)).data)


def test_lengths_say_their_unit() -> None:
    shop = json_schema()["$defs"]["Shop"]["properties"]
    assert shop["line_length"]["default"] == "7315.2 mm"
    assert shop["panel_mass"]["default"] == "1360 kg"


def test_keys_are_found_anywhere_in_a_file(good: str) -> None:
    data = read_tree(good).data
    assert "openings" in keys_at((), data)
    assert keys_at(("levels", 0, "outlines", 0, "corners", 2), data)[-2:] == ("wall", "at")
    assert "insulation" in keys_at(("assemblies", "ext", "layers", 1), data)
    assert "barrier" in keys_at(("assemblies", "ext", "layers", 2), data)
    assert keys_at(("levels", 1, "walls", 0, "gable"), data) == ("eave", "rise", "run", "peak")
    assert keys_at(("products", "stock", "2x7"), data) == ("thickness", "width")
    assert keys_at(("unit_types",), data) == ()
    assert keys_at(("openings", 0, "center", "x"), data) == ()
    assert keys_at(("assemblies", "ext", "layers", 9), data) == ()
