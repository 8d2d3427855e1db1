from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from panelgen.errors import Problem, SpecError
from panelgen.spec import HouseSpec, load, loads
from panelgen.spec.loader import MAX_PROBLEMS
from panelgen.spec.tree import MAX_SIZE, read_tree

EXAMPLES = [
    file
    for file in sorted((Path(__file__).parents[2] / "examples").rglob("*.yaml"))
    if not file.name.endswith(".faults.yaml")
]


def test_a_good_file_is_read(tmp_path: Path, good: str) -> None:
    file = tmp_path / "house.yaml"
    file.write_text(good, encoding="utf-8")
    house = load(file)
    assert house == load(str(file)) == loads(good)
    assert house.assemblies["ext"].framing.spacing == pytest.approx(609.6)
    assert house.runs[0].path[0] == (3000.0, 300.0, "cavity")
    assert house.design.ground_snow == pytest.approx(1.4364, abs=1e-4)


def test_a_spec_is_frozen(good: str) -> None:
    with pytest.raises(ValueError, match="frozen"):
        loads(good).house = "other"  # type: ignore[misc]


def test_json_is_read_as_well(tmp_path: Path, good: str) -> None:
    file = tmp_path / "house.json"
    file.write_text(json.dumps(read_tree(good).data, indent="\t"), encoding="utf-8")
    assert load(file) == loads(good)


@pytest.mark.parametrize(("unit", "mm"), [("mm", 6000.0), ("m", 6e6), ("in", 152_400.0), ("ft", 1_828_800.0)])
def test_bare_numbers_are_in_the_unit_of_the_file(unit: str, mm: float) -> None:
    text = f"""\
panelgen: 1
house: One wall
unit: {unit}
design: {{ground_snow: 1.4, building_width: 6000}}
assemblies: {{a: {{layers: [{{layer: framing}}]}}}}
levels: [{{id: "1", elevation: 0, height: 2.4 m, walls: [{{wall: A, assembly: a, start: [0, 0], end: [3 m, 0]}}]}}]
"""
    assert loads(text).design.building_width == pytest.approx(mm)


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.name)
def test_the_shipped_examples_are_good_input(file: Path) -> None:
    assert isinstance(load(file), HouseSpec)


def refused(path: Path) -> Problem:
    with pytest.raises(SpecError) as error:
        load(path)
    assert error.value.file == str(path)
    (problem,) = error.value.problems
    assert problem.remedy
    return problem


def test_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    assert "No such file" in refused(tmp_path / "none.yaml").message
    assert "directory" in refused(tmp_path).message


def test_a_name_that_no_file_can_have() -> None:
    with pytest.raises(SpecError, match="cannot be read"):
        load("a\0b")


def test_text_in_another_encoding(tmp_path: Path) -> None:
    file = tmp_path / "latin.yaml"
    file.write_bytes("panelgen: 1\nhouse: Caf\xe9\n".encode("latin-1"))
    assert refused(file).line == 2
    assert "UTF-8" in refused(file).message


def test_a_file_too_large_is_not_even_parsed(tmp_path: Path) -> None:
    file = tmp_path / "large.yaml"
    file.write_bytes(b"#" * (MAX_SIZE + 1))
    assert "longer than" in refused(file).message


def test_the_error_names_file_line_field_value_and_remedy(edited: Callable[..., str]) -> None:
    with pytest.raises(SpecError) as error:
        loads(edited("center: 6000", "center: 24 inn"), "house.yaml")
    head, row = str(error.value).splitlines()
    assert head == "house.yaml: 1 problem"
    assert row.startswith(
        "  line 49: openings[1].center: 'inn' is not a unit of length (got '24 inn'). Remedy: write a"
    )


def test_all_problems_come_together_in_the_order_of_the_file(
    edited: Callable[..., str], problems: Callable[[str], tuple[Problem, ...]]
) -> None:
    """A key given twice, fields that cannot be read, and cross-checks of what is left: one list."""
    found = problems(
        edited(
            "Test house", "../house",
            "elevation: 0\n", "elevation: 0\n    elevation: 1\n",
            "end: [4000, 6000]", "end: [4000, 0]",
            "width: 950", "width: 0",
            "sill: 900", "sill: 2000",
            "nm-12/2", "nm-12/9",
            "diameter: 16", "diameter: -16",
            "[1000, 1000, 5000]", "[1000, 1000, 0]",
            "at: [3000, 300]", "at: [9000, 300]",
        )
    )  # fmt: skip
    assert [problem.field for problem in found] == [
        "house",
        "levels[0].elevation",
        "levels[0].walls[0].start",
        "unit_types['hall door'].width",
        "openings[0].sill",
        "runs[0].size",
        "runs[1].diameter",
        "runs[2].path[1]",
        "boxes[0].at[0]",
    ]
    assert [problem.line for problem in found] == sorted(problem.line for problem in found)


def test_what_needs_a_faulty_entry_is_not_called_unknown(refusal: Callable[..., Problem]) -> None:
    assert refusal("diameter: 16", "diameter: -16").field == "runs[1].diameter"
    assert refusal("width: 950", "width: 0").field == "unit_types['hall door'].width"


def test_entries_keep_their_number_when_others_are_faulty(
    edited: Callable[..., str], problems: Callable[[str], tuple[Problem, ...]]
) -> None:
    found = problems(edited("sill: 900", "sill: low", "center: 6000", "center: 9000"))
    assert [problem.field for problem in found] == ["openings[0].sill", "openings[1].center"]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("runs:\n", "runs: 3\nother:\n"),
        ("house: Test house", "house: Test house\nextra: 1"),
        ("design: {ground_snow: 30 psf, building_width: 24 ft}", "design: 1"),
    ],
)
def test_a_whole_section_can_be_at_fault(
    edited: Callable[..., str], problems: Callable[[str], tuple[Problem, ...]], old: str, new: str
) -> None:
    text = edited(old, new, "at: [3000, 300]", "at: [9000, 300]")
    first, *_, last = problems(text)
    assert first.field in ("design", "extra", "runs")
    assert last.field == "boxes[0].at[0]"


def test_a_spec_of_two_thousand_lines_loads_quickly(good: str) -> None:
    levels = "".join(
        f'  - id: "{n}"\n    elevation: {n} m\n    height: 1 m\n    walls:\n'
        + "".join(
            f"      - wall: X{n}-{m}\n        assembly: ext\n        start: [0, {m} m]\n        end: [20 ft, {m} m]\n"
            for m in range(40)
        )
        for n in range(10, 20)
    )
    runs = "".join(
        f"  - id: Y{n}\n    system: power\n    size: nm-12/2\n    wall: S\n    path:\n"
        + "".join(f"      - [{100 * m}, 3'-6 1/2\", cavity]\n" for m in range(12))
        for n in range(40)
    )
    text = good.replace("unit_types:\n", levels + "unit_types:\n").replace("sleeves:\n", runs + "sleeves:\n")
    assert text.count("\n") > 2000
    loads(good)  # the catalog is loaded once
    start = time.process_time()
    house = loads(text)
    assert time.process_time() - start < 0.4
    assert len(house.levels) == 12


def test_reading_specs_loads_no_heavy_library() -> None:
    script = "import sys, panelgen.spec; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())
    assert "panelgen.spec.loader" in loaded
    assert not loaded & {"cadquery", "OCP", "trimesh", "ifcopenshell", "scipy", "shapely", "numpy"}


def test_a_list_of_problems_is_cut_and_says_so(good: str, problems: Callable[[str], tuple[Problem, ...]]) -> None:
    rows = "".join(
        f"  - {{id: X{n}, wall: S, type: casement, center: {{}}, sill: 900}}\n" for n in range(MAX_PROBLEMS + 50)
    )
    for center in ("wide", "2000"):
        found = problems(good.replace("runs:\n", rows.replace("{}", center) + "runs:\n"))
        assert len(found) == MAX_PROBLEMS + 1
        assert "more problems" in found[-1].message


@pytest.mark.parametrize(
    "row", ["type: casement, center: 2000, sill: 900", "type: none, center: 2000", "width: 3", "center: x"]
)
def test_a_file_full_of_faults_is_refused_in_seconds(
    good: str, problems: Callable[[str], tuple[Problem, ...]], row: str
) -> None:
    rows = "".join(f"  - {{id: X{n}, wall: S, {row}}}\n" for n in range(5_000))
    start = time.process_time()
    assert len(problems(good.replace("runs:\n", rows + "runs:\n"))) == MAX_PROBLEMS + 1
    assert time.process_time() - start < 10
