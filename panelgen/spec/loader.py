"""From a file that a person wrote to a house spec that can be designed, or every problem at once."""

from __future__ import annotations

import os
from itertools import islice
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from panelgen.catalog import Catalog
from panelgen.errors import Problem, SpecError
from panelgen.spec.crosscheck import crosscheck
from panelgen.spec.faults import Fault
from panelgen.spec.house import HouseSpec
from panelgen.spec.salvage import salvaged
from panelgen.spec.settling import settled
from panelgen.spec.tree import MAX_SIZE, read_tree
from panelgen.spec.wording import faults_of
from panelgen.units import LENGTH_UNITS

__all__ = ["MAX_PROBLEMS", "load", "loads"]

MAX_PROBLEMS = 200


def load(path: str | os.PathLike[str], catalog: Catalog | None = None) -> HouseSpec:
    """Read a house spec from a YAML or JSON file; see `loads`. Raises SpecError too where it cannot be read."""
    file = os.fspath(path)
    try:
        with Path(file).open("rb") as stream:
            content = stream.read(MAX_SIZE + 1)
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise SpecError(
            [Problem(f"the file cannot be read: {reason}", remedy="check its name and place")], file
        ) from error
    try:
        text = content.decode()
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise SpecError([Problem("the text is not UTF-8", line=line, remedy="save the file as UTF-8")], file) from error
    return loads(text, file, catalog)


def loads(text: str, file: str = "", catalog: Catalog | None = None) -> HouseSpec:
    """Read a house spec from YAML or JSON text.

    `file` is the name shown in errors; products are looked up in `catalog`, by default the one of the
    package, with the shop's own on top. Raises SpecError with every problem found (up to
    `MAX_PROBLEMS`), in the order of the file.
    """
    tree = read_tree(text, file)
    house, faults = _validated(tree.data)
    if house is not None:
        house = settled(house, catalog)
        faults = list(islice(crosscheck(house, catalog), MAX_PROBLEMS + 1))
    elif rest := salvaged(tree.data, faults):
        partial, _ = _validated(rest.data)
        found = crosscheck(settled(partial, catalog), catalog) if partial is not None else ()
        faults += [fault._replace(path=rest.path_in_file(fault.path)) for fault in islice(found, MAX_PROBLEMS)]
    problems = [*tree.problems, *(fault.problem(tree.lines) for fault in faults)]
    if house is None or problems:
        raise SpecError(_in_order(problems), file)
    return house


def _in_order(problems: list[Problem]) -> list[Problem]:
    """By line; a long list is cut and says so."""
    ordered = sorted(problems, key=lambda problem: problem.line)
    if len(ordered) <= MAX_PROBLEMS:
        return ordered
    return [*ordered[:MAX_PROBLEMS], Problem("there are more problems after these", remedy="correct these first")]


def _validated(data: Any) -> tuple[HouseSpec | None, list[Fault]]:
    """The data as a house spec, or its faults."""
    unit = data.get("unit", "mm") if isinstance(data, dict) else "mm"
    known = isinstance(unit, str) and unit in LENGTH_UNITS
    try:
        return HouseSpec.model_validate(data, context={"unit": unit if known else "mm"}), []
    except ValidationError as error:
        return None, faults_of(error, data, MAX_PROBLEMS + 1)
