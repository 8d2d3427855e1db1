"""Models whose data breaks the schema: an element is left with a reason, or the file is refused; never a crash."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from panelgen.intake import IntakeError, read_ifc
from panelgen.spec.loader import loads
from tests.intake.drawing import Drawing, small_house

ROUNDS = 60


@pytest.fixture(scope="module")
def lines(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    drawing = Drawing("IFC2X3", "m")
    walls = small_house(drawing)
    drawing.layers(walls["P"], [("Board", 12.0), ("Stud", 76.0), ("Board", 12.0)], 50.0)
    return drawing.save(tmp_path_factory.mktemp("broken") / "whole.ifc").read_text().splitlines()


def damaged(lines: list[str], rng: random.Random) -> list[str]:
    """One entity deleted, or one of its values made null, derived, absurd or a reference to something else."""
    entities = [n for n, line in enumerate(lines) if line.startswith("#")]
    n = rng.choice(entities)
    other = lines[rng.choice(entities)].partition("=")[0]
    value = rng.choice([None, "$", "*", "0.", "-1.", "1.E30", other, "#99999"])
    copy = list(lines)
    if value is None:
        copy[n] = ""
        return copy
    head, _, tail = lines[n].partition("(")
    values = tail.removesuffix(");").split(",")
    at = rng.randrange(len(values))
    opened, closed = values[at].count("("), values[at].count(")")
    values[at] = "(" * max(0, opened - closed) + value + ")" * max(0, closed - opened)
    copy[n] = f"{head}({','.join(values)});"
    return copy


@pytest.mark.filterwarnings("ignore:Arrays of 2-dimensional vectors:DeprecationWarning")  # ifcopenshell's own
@pytest.mark.parametrize("seed", range(3))
def test_damage_never_crashes(seed: int, lines: list[str], tmp_path: Path) -> None:
    rng = random.Random(seed)
    path = tmp_path / "damaged.ifc"
    loaded = 0
    for _ in range(ROUNDS):
        path.write_text("\n".join(damaged(lines, rng)) + "\n")
        try:
            spec = loads(read_ifc(path).spec_text)
        except IntakeError:
            continue
        loaded += bool(spec.levels)
    assert loaded > ROUNDS // 2


def test_a_wall_with_broken_data_is_left_and_the_others_come(tmp_path: Path) -> None:
    drawing = Drawing()
    walls = small_house(drawing)
    walls["P"].Representation.Representations[1].Items[0].ExtrudedDirection = drawing.direction(0, 0, 0)
    intake, spec = drawing.imported(tmp_path)
    assert intake.counts.walls_taken == len(spec.levels[0].walls) == 4
    assert [item.reason for item in intake.left] == [
        "its data in the model breaks the IFC schema",
        "its wall was not taken: its data in the model breaks the IFC schema",
    ]
