"""Whatever is in a file, loading it returns a spec or raises SpecError with a remedy for each problem."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.errors import SpecError
from panelgen.spec import HouseSpec, loads
from panelgen.spec.tree import read_tree
from tests.spec.conftest import GOOD

YAML_SIGNS = st.text(st.sampled_from(list("aB1 -:,?&*!|>'\"%@`{}[]#~\n\t\\/.<=\x85\u2028é")), max_size=60)
SCALARS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=10),
    st.sampled_from(["24 in", "7'-6 1/2\"", "ext", "S", "cavity", "framing", "window", "2x6", "../x", "layer"]),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.text(max_size=6) | st.sampled_from(["layer", "id", "wall", "at"]), inner, max_size=4)
    ),
    max_leaves=8,
)
DATA: dict[str, Any] = read_tree(GOOD).data


def returns_or_raises(text: str) -> None:
    refused = None
    try:
        house = loads(text)
    except SpecError as error:
        refused = error
    if refused is None:
        assert isinstance(house, HouseSpec)
        return
    assert refused.problems
    for problem in refused.problems:
        assert problem.message
        assert problem.remedy
        assert 0 <= problem.line <= len(text.splitlines()) + 1
        assert str(problem).isprintable()


@given(st.text())
def test_any_text(text: str) -> None:
    returns_or_raises(text)


@given(YAML_SIGNS)
def test_any_signs_that_mean_something_in_yaml(text: str) -> None:
    returns_or_raises(text)


@given(st.integers(0, len(GOOD)), st.integers(0, 20), YAML_SIGNS)
def test_a_good_file_with_a_piece_replaced(at: int, length: int, text: str) -> None:
    returns_or_raises(GOOD[:at] + text + GOOD[at + length :])


@given(st.data())
@settings(deadline=None)
def test_a_good_file_with_any_value_replaced(data: st.DataObject) -> None:
    tree = json.loads(json.dumps(DATA))
    here: Any = tree
    while True:
        keys = list(here) if isinstance(here, dict) else list(range(len(here)))
        key = data.draw(st.sampled_from(keys))
        inner = here[key]
        if not isinstance(inner, (dict, list)) or not inner or data.draw(st.booleans()):
            break
        here = inner
    here[key] = data.draw(VALUES)
    returns_or_raises(json.dumps(tree))
