from __future__ import annotations

import time

import pytest

from panelgen.errors import Problem, SpecError
from panelgen.spec.tree import MAX_DEPTH, MAX_NODES, MAX_SCALAR, MAX_SIZE, read_tree


def refused(text: str) -> Problem:
    with pytest.raises(SpecError) as error:
        read_tree(text)
    (problem,) = error.value.problems
    assert problem.remedy
    return problem


def test_every_field_keeps_its_line() -> None:
    tree = read_tree("a: 1\nb:\n  - 2\n  - c: 3\n    d: [4,\n      5]\n")
    assert tree.data == {"a": 1, "b": [2, {"c": 3, "d": [4, 5]}]}
    lines = {(): 1, ("a",): 1, ("b",): 2, ("b", 0): 3, ("b", 1): 4, ("b", 1, "c"): 4, ("b", 1, "d"): 5}
    assert {path: tree.lines.at(path) for path in lines} == lines
    assert tree.lines.at(("b", 1, "d", 1)) == 6


def test_a_field_that_is_not_there_has_the_line_of_what_holds_it() -> None:
    tree = read_tree("a: 1\nb:\n  - c: 3\n")
    assert tree.lines.at(("b", 0, "missing", "deeper")) == 3
    assert tree.lines.at(("missing",)) == 1


def test_an_alias_has_the_line_where_it_is_used() -> None:
    tree = read_tree("a: &point\n  x: 1\nb: *point\nc:\n  - *point\n")
    assert tree.data["c"] == [{"x": 1}]
    assert tree.lines.at(("b",)) == 3
    assert tree.lines.at(("c", 0)) == 5
    assert tree.lines.at(("b", "x")) == 2


def test_json_is_read_with_tabs_and_lines() -> None:
    tree = read_tree('{\n\t"a": [1, 2.5e1, true, null, "x\\u00e9\\/y"],\n\t"b": {"c": -3}\n}\n')
    assert tree.data == {"a": [1, 25.0, True, None, "xé/y"], "b": {"c": -3}}
    assert tree.lines.at(("b", "c")) == 3


def test_a_byte_order_mark_is_passed_over() -> None:
    assert read_tree("\ufeffa: 1").data == {"a": 1}


def test_quoted_words_stay_text() -> None:
    assert read_tree("a: '1'\nb: \"true\"\nc: !!str 5\nd: ! 6\n").data == {"a": "1", "b": "true", "c": "5", "d": "6"}


def test_keys_are_text() -> None:
    assert read_tree("1: a\ntrue: b\n").data == {"1": "a", "true": "b"}


def test_keys_given_twice_are_named_with_both_lines() -> None:
    tree = read_tree("a:\n  - b: 1\n    c: 2\n    b: 3\nd: 4\nd: 5\n")
    first, second = tree.problems
    assert (first.field, first.line, second.field, second.line) == ("a[0].b", 4, "d", 6)
    assert "given twice, first on line 2" in first.message
    assert first.remedy
    assert tree.data == {"a": [{"b": 1, "c": 2}], "d": 4}


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("a: 1\n\tb: 2\n", 2, "a tab is used to indent"),
        ("a:\n\t- 1\n", 2, "a tab is used to indent"),
        ("a: 1\nb: 'x\nc: 2\n", 2, "a quote is opened here and never closed"),
        ("a: 1\nb: 2: 3\n", 2, "a colon stands where none can"),
        ("a: 1\nb\nc: 2\n", 2, "no key with a colon"),
        ('a: "\\q"', 1, "a backslash in quotes"),
        ("a: 1\nb: [1, 2\nc: 3\n", 3, "not valid YAML"),
        ("a: @x", 1, "not valid YAML"),
        ("a: 1\nb: \x07\n", 2, "the character '\\x07' cannot stand in a text file"),
        ("a: \ud800", 1, "cannot stand in a text file"),
        ("a: 1\n---\nb: 2\n", 2, "a second document starts here"),
        ("", 0, "the file is empty"),
        ("# nothing\n", 0, "the file is empty"),
        ("a: 1\n<<: {b: 2}\n", 2, "merge keys"),
        ("a: 1\n? [1, 2]\n: 3\n", 2, "stands where a key should"),
        ("a: &x b\n*x : 3\n", 2, "stands where a key should"),
        ("a: 1\nb: *none\n", 2, "the alias *none has no anchor"),
        ("a: &x\n  - *x\n", 2, "stands inside what it repeats"),
        ("a: !!python/object/apply:os.system ['true']\n", 1, "the tag"),
        ("a: !!int '3'\n", 1, "the tag"),
        ("a: !!set {b}\n", 1, "the tag"),
    ],
)
def test_what_a_spec_never_needs_is_refused_with_its_line(text: str, line: int, words: str) -> None:
    problem = refused(text)
    assert problem.line == line
    assert words in problem.message


def test_a_fault_inside_the_tree_names_its_field() -> None:
    assert refused("a:\n  - b: *none\n").field == "a[0].b"


def bomb(levels: int, width: int) -> str:
    rows = ["a0: &a0 [" + ", ".join(["x"] * width) + "]"]
    rows += [f"a{n}: &a{n} [" + ", ".join([f"*a{n - 1}"] * width) + "]" for n in range(1, levels)]
    return "\n".join(rows)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        pytest.param(bomb(12, 9), "aliases are unfolded", id="aliases of aliases"),
        pytest.param(bomb(MAX_DEPTH + 2, 1), "nested more than", id="deep aliases"),
        pytest.param("- " * 100_000, "nested", id="deep lists"),
        pytest.param("[" * 100_000, "nested", id="deep brackets"),
        pytest.param("{a: " * 100_000, "nested", id="deep mappings"),
        pytest.param("a: " + "x" * (MAX_SCALAR + 1), "longer than 10,000 characters", id="long text"),
        pytest.param("x" * (MAX_SIZE + 1), "longer than 5,000,000 characters", id="long file"),
    ],
)
def test_files_that_would_unfold_are_refused_at_once(text: str, words: str) -> None:
    start = time.process_time()
    problem = refused(text)
    assert time.process_time() - start < 1.0
    assert words in problem.message


def test_values_are_counted_as_often_as_they_are_used() -> None:
    half = MAX_NODES // 2 - 10
    text = "a: &a [" + "1," * half + "]\nb: *a\n"
    assert len(read_tree(text).data["b"]) == half
    problem = refused(text + "c: *a\n")
    assert (problem.line, problem.field) == (3, "c")


def test_the_depth_allowed_is_allowed() -> None:
    text = "[" * MAX_DEPTH + "]" * MAX_DEPTH
    assert read_tree(text).data[0] is not None
    assert "nested" in refused(f"[{text}]").message
