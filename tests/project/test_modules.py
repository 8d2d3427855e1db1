"""Every module says what it offers: a docstring, and an `__all__` that is exactly its public names."""

from __future__ import annotations

import ast
from importlib import import_module
from pathlib import Path

import pytest

from tests.project.tree import module_files, module_name


def named(file: Path) -> pytest.param:
    """A test case labelled by the module's dotted name."""
    return pytest.param(file, id=module_name(file))


MODULES = [named(file) for file in module_files()]
PLAIN = [named(file) for file in module_files() if file.name != "__init__.py"]


def parse(file: Path) -> ast.Module:
    """The syntax tree of a module file."""
    return ast.parse(file.read_text(encoding="utf-8"))


def defined_names(tree: ast.Module) -> set[str]:
    """Public names that the module binds itself: functions, classes and assignments at its top level."""
    names: set[str] = set()
    for node in tree.body:
        match node:
            case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name) | ast.ClassDef(name=name):
                names.add(name)
            case ast.Assign(targets=targets):
                flat = (part for target in targets for part in getattr(target, "elts", [target]))
                names.update(part.id for part in flat if isinstance(part, ast.Name))
            case ast.AnnAssign(target=ast.Name(id=name)):
                names.add(name)
    return {name for name in names if not name.startswith("_")}


def declared(tree: ast.Module) -> list[str]:
    """The module's `__all__`."""
    for node in tree.body:
        match node:
            case (
                ast.Assign(targets=[ast.Name(id="__all__")], value=value)
                | ast.AnnAssign(target=ast.Name(id="__all__"), value=ast.expr() as value)
            ):
                return ast.literal_eval(value)
    raise AssertionError("no __all__")


@pytest.mark.parametrize("file", PLAIN)
def test_all_is_exactly_the_public_names(file: Path) -> None:
    tree = parse(file)
    names = declared(tree)
    assert len(names) == len(set(names))
    assert set(names) == defined_names(tree)


@pytest.mark.parametrize("file", PLAIN)
def test_annotations_are_postponed(file: Path) -> None:
    first = next(node for node in parse(file).body if not isinstance(node, ast.Expr))
    assert isinstance(first, ast.ImportFrom)
    assert first.module == "__future__"


@pytest.mark.parametrize("file", MODULES)
def test_module_says_what_lives_in_it(file: Path) -> None:
    assert ast.get_docstring(parse(file))


@pytest.mark.parametrize("file", [case for case in MODULES if case.values[0].name == "__init__.py"])
def test_what_a_package_offers_is_there(file: Path) -> None:
    tree = parse(file)
    package = import_module(module_name(file))
    offered = declared(tree) if tree.body[1:] else []
    assert defined_names(tree) <= set(offered) | {"__version__"}
    assert [name for name in offered if not hasattr(package, name)] == []
