from __future__ import annotations

from collections.abc import Callable

import pytest
from pydantic import BaseModel, ValidationError, field_validator

from panelgen.errors import Problem
from panelgen.spec.wording import faults_of

WRITE_LENGTH = "write a length like 24 in"
SIGNS = "use letters, digits, spaces and"
PARTITION_LAYERS = """\
  partition:
    layers:
      - {layer: framing, stock: 2x4, insulation: null}
"""
GABLE_WALLS = """\
    walls:
      - wall: G
        assembly: ext
        start: [0, 0]
        end: [8000, 0]
        exterior: true
        gable: {eave: 300, rise: 6 in, run: 12 in}
"""


@pytest.mark.parametrize(
    ("old", "new", "field", "words", "remedy"),
    [
        ("center: 6000", "center: 24 inn", "openings[1].center", "'inn' is not a unit", WRITE_LENGTH),
        ("center: 6000", "center: .nan", "openings[1].center", "finite", WRITE_LENGTH),
        ("center: 6000", "center: .inf", "openings[1].center", "finite", WRITE_LENGTH),
        ("center: 6000", "center: true", "openings[1].center", "not a length", WRITE_LENGTH),
        ("center: 6000", "center: null", "openings[1].center", "not a length", WRITE_LENGTH),
        ("center: 6000", "center: ''", "openings[1].center", "missing", WRITE_LENGTH),
        ("center: 6000", "center: [1]", "openings[1].center", "not a length", WRITE_LENGTH),
        ("center: 6000", "center: -5", "openings[1].center", "greater than 0", "greater than 0"),
        ("sill: 900", "sill: -1", "openings[0].sill", "must not be negative", "0 or more"),
        ("width: 900", "width: 0", "unit_types.casement.width", "greater than 0", "greater than 0"),
        ("spacing: 24 in, ins", "spacing: 2, ins", "assemblies.ext.layers[1].spacing",
         "less than 100 mm", "check the unit"),
        ("gap: 3", "gap: 10 ft",
         "assemblies.ext.layers[2].gap", "more than 50 mm", "check the unit"),
        ("30 psf", "30 lb", "design.ground_snow", "'lb' is not a unit of load on an area", "30 psf"),
        ("density: 600", "density: 0", "products.sheets.board-12.density", "greater than 0", "greater"),
        ("24 ft}\nprod", "24 ft, panel_mass: hi}\nprod", "shop.panel_mass", "not a mass", "2500 lb"),
        ("power", "powr", "runs[0].system", "not one of the choices", "did you mean power?"),
        ("kind: door", "kind: dor", "unit_types['hall door'].kind", "choices", "did you mean door?"),
        ("panelgen: 1", "panelgen: 2", "panelgen", "choices", "write 1"),
        ("rules: irc-2021", "unit: yard", "unit", "choices", "choose one of: mm, m, in, ft"),
        ("layer: strapping", "layer: 3", "assemblies.ext.layers[3].layer", "choices", "strapping"),
        ("layer: strapping, ", "", "assemblies.ext.layers[3].layer", "missing", "strapping"),
        ("- {layer: framing, stock: 2x4, insulation: null}", "- framing", "assemblies.partition.layers[0]",
         "must be a mapping", "write 'name: value'"),
        ("stock: 2x4", "stocks: 2x4", "assemblies.partition.layers[0].stocks", "no such key", "did you mean stock?"),
        ("house: Test", "hoose: 1\nhouse: Test", "hoose", "no such key", "did you mean house?"),
        ("reason: grab bar", "reason: grab bar, side: left", "backing[0].side",
         "no such key", "choose one of: id, wall"),
        ("wall: E, start: 1000, end", "wall: E, end", "backing[0].start", "missing", "add it"),
        ("id: K1", "id: 12", "backing[0].id", "must be text", 'put it in quotes: "12"'),
        ("id: K1", "id: [K]", "backing[0].id", "must be text", "one word"),
        ("id: K1", "id: null", "backing[0].id", "a value is missing", "after the colon"),
        ("id: K1", "id: ../K", "backing[0].id", "not an id", "letters, digits and _.-"),
        ("id: K1", "id: a/b", "backing[0].id", "not an id", "letters, digits and _.-"),
        ("id: K1", 'id: "K\\x07"', "backing[0].id", "not an id", "letters"),
        ('id: "2"', "id: loft", "levels[1].id", "not a level id", "capital letters or digits"),
        ("  2x7:", "  ../2x7:", "products.stock['../2x7']", "not a product name", "letters and digits"),
        ("Test house", "../house", "house", "holds a sign", SIGNS),
        ("Test house", "a/b", "house", "holds a sign", SIGNS),
        ("Test house", "a\\b", "house", "holds a sign", SIGNS),
        ("Test house", '"a\\x00b"', "house", "holds a sign", SIGNS),
        ("Test house", "..", "house", "starts with a letter or digit", "change its ends"),
        ("Test house", "house.", "house", "does not end in a dot", "change its ends"),
        ("Test house", '""', "house", "too few characters", "at least 1"),
        ("Test house", "x" * 81, "house", "more than 80 characters", "shorten"),
        ("  casement:", "  a/b: {kind: door, width: 1, height: 1}\n  casement:",
         "unit_types['a/b']", "holds a sign", SIGNS),
        ("  partition:", '  "a\\x1b":', "assemblies['a\\x1b']", "holds a sign", SIGNS),
        ("gasket and tape", '"a\\x1b[2J"', "sleeves[0].seal", "control characters", "plain text"),
        ("reason: engineer agreed", "reason: ok", "waivers[0].reason", "too few characters", "at least 3"),
        ("exterior: true", "exterior: maybe", "levels[1].walls[0].exterior", "neither true nor false", "true or false"),
        ("start: [4000, 0]", "start: [4000]", "levels[0].walls[0].start", "too few values", "at least 2"),
        ("start: [4000, 0]", "start: [4, 0, 0]", "levels[0].walls[0].start", "more than 2 values", "shorten it"),
        ("start: [4000, 0]", "start: 4000", "levels[0].walls[0].start", "must be a list", "[a, b]"),
        ("shop: {line_length: 24 ft}", "shop: 24 ft", "shop", "must be a mapping", "line_length, line_height"),
        ("[[3000, 300, cavity], [3000, 2000, cavity]]", "[[3000, 300, cavity]]",
         "runs[0].path", "too few", "at least 2"),
        ("[[3000, 300, cavity]", "[[3000, 300, wall]", "runs[0].path[0][2]", "neither a depth word", "cavity, framing"),
        ("diameter: 16", "diameter: 16, size: pex-1/2", "runs[1]", "each of size and diameter", "a size"),
        ("diameter: 16, ", "", "runs[1]", "neither of size and diameter", "a size"),
        ("[1000, 1000, 0]", "[1000, 1000, cavity]", "runs[2]", "needs a wall", "name the wall"),
        ("end: 2000", "end: 1000", "backing[0].end", "greater than start", "from the start"),
    ],
)  # fmt: skip
def test_each_fault_has_line_field_words_and_remedy(
    refusal: Callable[..., Problem], old: str, new: str, field: str, words: str, remedy: str
) -> None:
    problem = refusal(old, new)
    assert problem.field == field
    assert words in problem.message
    assert remedy in problem.remedy


def test_a_level_without_walls(refusal: Callable[..., Problem]) -> None:
    problem = refusal(GABLE_WALLS, "", '- id: "2"', '- id: "2" #!')
    assert problem.field == "levels[1]"
    assert "at least one outline or wall" in problem.message


def test_the_value_is_shown_as_written(refusal: Callable[..., Problem]) -> None:
    assert refusal("center: 6000", "center: 24 inn").value == "'24 inn'"


def test_the_line_is_that_of_the_key_in_a_long_mapping(refusal: Callable[..., Problem]) -> None:
    new = "design:\n  ground_snow: 30 psf\n  building_width: wide #!\n"
    assert refusal("design: {ground_snow: 30 psf, building_width: 24 ft}\n", new).field == "design.building_width"


def test_a_misspelt_key_is_one_problem_and_not_two(refusal: Callable[..., Problem]) -> None:
    problem = refusal("building_width", "bilding_width")
    assert problem.field == "design.bilding_width"
    assert problem.remedy == "did you mean building_width?"


def test_a_missing_section_is_named(good: str, problems: Callable[[str], tuple[Problem, ...]]) -> None:
    (problem,) = problems(good.replace("design: {ground_snow: 30 psf, building_width: 24 ft}\n", ""))
    assert (problem.field, problem.line, problem.message) == ("design", 1, "this key is missing")


def test_a_list_of_faulty_items_is_not_called_too_short(refusal: Callable[..., Problem]) -> None:
    assert refusal("[3000, 300, cavity]", "[3000, 300, here]").field == "runs[0].path[0][2]"


@pytest.mark.parametrize("text", ["5", "[]", "house", "- a: 1"])
def test_a_file_that_is_no_mapping(problems: Callable[[str], tuple[Problem, ...]], text: str) -> None:
    (problem,) = problems(text)
    assert problem.line == 1
    assert "mapping" in problem.message
    assert "panelgen, house, unit" in problem.remedy


@pytest.mark.parametrize(
    ("layers", "words"),
    [
        ("[{layer: sheathing, product: osb-7/16}]", "exactly one framing layer, not 0"),
        ("[{layer: framing}, {layer: framing}]", "exactly one framing layer, not 2"),
        ("[{layer: strapping}, {layer: framing}]", "outside the framing"),
        ("[{layer: framing}, {layer: strapping}]", "inside the framing"),
    ],
)
def test_layers_in_an_order_nobody_builds(refusal: Callable[..., Problem], layers: str, words: str) -> None:
    problem = refusal(
        "layers:\n      - {layer: framing, stock: 2x4, insulation: null}",
        f"layers: {layers}",
        "  partition:",
        "  partition: #!",
    )
    assert problem.field == "assemblies.partition"
    assert words in problem.message
    assert "from outside to inside" in problem.remedy


def test_a_kind_of_fault_without_words_of_its_own_is_still_shown() -> None:
    class Other(BaseModel):
        tags: set[str]
        name: str

        @field_validator("name")
        @classmethod
        def _refuse(cls, name: str) -> str:
            raise ValueError(f"{name} is taken")

    data = {"tags": "many", "name": "x"}
    with pytest.raises(ValidationError) as error:
        Other.model_validate(data)
    tags, name = faults_of(error.value, data, 9)
    assert tags.path == ("tags",)
    assert "valid set" in tags.message
    assert (tags.value, tags.remedy) == ("'many'", "correct this value")
    assert (name.message, name.remedy) == ("x is taken", "correct this value")
    assert len(faults_of(error.value, data, 1)) == 1
