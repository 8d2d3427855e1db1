"""environment.yml, pyproject.toml and the imports of the package name the same dependencies."""

from __future__ import annotations

import ast
import sys

import yaml
from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet

import panelgen
from tests.project.tree import PACKAGE, ROOT, module_files, pyproject

IMPORTED_AS = {"pillow": "PIL", "pyyaml": "yaml"}
FOR_THE_NOTEBOOK = {"jupyterlab"}
PART_OF_ANOTHER = {"OCP", "pydantic_core"}  # of cadquery and pydantic


def bounds(requirements: list[str]) -> dict[str, SpecifierSet]:
    """Version bounds by package name."""
    parsed = [Requirement(text) for text in requirements]
    return {requirement.name: requirement.specifier for requirement in parsed}


def environment() -> list[str | dict[str, list[str]]]:
    """The dependency list of environment.yml: packages, and the pip section as a mapping."""
    return yaml.safe_load((ROOT / "environment.yml").read_text(encoding="utf-8"))["dependencies"]


def third_party_imports() -> set[str]:
    """Top-level names that the package imports from outside itself and the standard library."""
    found: set[str] = set()
    for file in module_files():
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                found.update(alias.name.partition(".")[0] for alias in node.names)
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                found.add(node.module.partition(".")[0])
    return found - set(sys.stdlib_module_names) - {PACKAGE.name}


def test_environment_has_the_packages_and_bounds_of_pyproject() -> None:
    conda = bounds([entry for entry in environment() if isinstance(entry, str)])
    del conda["pip"]
    assert conda.pop("python") == SpecifierSet(pyproject()["project"]["requires-python"])
    assert conda == bounds(pyproject()["project"]["dependencies"])


def test_environment_installs_the_package_with_extras_that_exist() -> None:
    (from_pip,) = [entry["pip"] for entry in environment() if isinstance(entry, dict)]
    (line,) = from_pip
    editable, _, target = line.partition(" ")
    assert editable == "-e"
    extras = set(target.removeprefix(".[").removesuffix("]").split(","))
    assert extras == {"test", "dev"}
    assert extras <= set(pyproject()["project"]["optional-dependencies"])


def test_promised_dependencies_are_declared() -> None:
    project = pyproject()["project"]
    assert {"cadquery", "trimesh", "jupyterlab", "ipywidgets"} <= set(bounds(project["dependencies"]))
    assert {"pytest", "hypothesis"} <= set(bounds(project["optional-dependencies"]["test"]))


def test_every_import_is_declared_and_every_dependency_imported() -> None:
    project = pyproject()["project"]
    declared = bounds(project["dependencies"] + project["optional-dependencies"]["ifc"])
    expected = {IMPORTED_AS.get(name, name) for name in declared.keys() - FOR_THE_NOTEBOOK}
    assert third_party_imports() - PART_OF_ANOTHER == expected


def test_version_is_the_same_in_both_places() -> None:
    assert panelgen.__version__ == pyproject()["project"]["version"]
