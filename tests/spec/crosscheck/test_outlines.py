from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panelgen.errors import Problem, SpecError
from panelgen.spec import loads

Points = Sequence[tuple[float, float]]

SQUARE: Points = [(0, 0), (6000, 0), (6000, 6000), (0, 6000)]
ELL: Points = [(0, 0), (8000, 0), (8000, 3000), (4000, 3000), (4000, 6000), (0, 6000)]


def spec(points: Points, closed: bool = True) -> str:
    corners = "\n".join(f"          - {{wall: W{n}, at: [{x!r}, {y!r}]}}" for n, (x, y) in enumerate(points))
    return f"""\
panelgen: 1
house: Outline
design: {{ground_snow: 0, building_width: 8 m}}
assemblies:
  ext: {{layers: [{{layer: framing}}]}}
levels:
  - id: "1"
    elevation: 0
    height: 2400
    outlines:
      - assembly: ext
        closed: {str(closed).lower()}
        corners:
{corners}
"""


FIRST_CORNER_LINE = 14


@pytest.fixture
def refused(problems: Callable[[str], tuple[Problem, ...]]) -> Callable[..., list[tuple[str, str, str]]]:
    """(field after the corners, message, remedy) of each problem of an outline, its line checked."""

    def _refused(points: Points, closed: bool = True) -> list[tuple[str, str, str]]:
        rows = []
        for problem in problems(spec(points, closed)):
            head, _, tail = problem.field.partition(".corners")
            assert head == "levels[0].outlines[0]"
            index = int(tail[1 : tail.index("]")]) if tail else -1
            assert problem.line == FIRST_CORNER_LINE + index
            rows.append((tail, problem.message, problem.remedy))
        return rows

    return _refused


@pytest.mark.parametrize("points", [SQUARE, ELL])
def test_outlines_that_enclose_a_house(points: Points) -> None:
    assert len(loads(spec(points)).levels[0].outlines[0].corners) == len(points)


def test_a_turned_house_is_as_good() -> None:
    turn = math.radians(31)
    points = [(x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)) for x, y in ELL]
    assert loads(spec(points))


def test_clockwise(refused: Callable[..., list[tuple[str, str, str]]]) -> None:
    ((tail, words, remedy),) = refused(SQUARE[::-1])
    assert tail == ""
    assert "clockwise" in words
    assert "reverse order" in remedy


def test_a_closed_outline_that_repeats_its_first_corner(refused: Callable[..., list[tuple[str, str, str]]]) -> None:
    rows = refused([*SQUARE, SQUARE[0]])
    assert [tail for tail, *_ in rows] == ["[4].at", "[4].at"]
    assert any("returns by itself" in remedy for *_, remedy in rows)


def test_a_corner_given_twice(refused: Callable[..., list[tuple[str, str, str]]]) -> None:
    ((tail, words, remedy),) = refused([*SQUARE[:2], *SQUARE[1:]])
    assert tail == "[1].at"
    assert "wall W1 has no length" in words
    assert "take one of the two points out" in remedy


def test_an_outline_that_crosses_itself(refused: Callable[..., list[tuple[str, str, str]]]) -> None:
    bow_tie = [(0, 0), (4000, 0), (4000, 6000), (2000, 6000), (2000, -3000), (0, -3000)]
    rows = refused(bow_tie)
    assert [tail for tail, *_ in rows] == ["[3].at"]
    assert "wall W3 meets wall W0" in rows[0][1]
    assert "in their order around the house" in rows[0][2]


def test_an_outline_that_touches_itself(refused: Callable[..., list[tuple[str, str, str]]]) -> None:
    pinched = [(0, 0), (4000, 0), (4000, 4000), (8000, 4000), (8000, 8000), (4000, 8000), (4000, 4000), (0, 4000)]
    assert any("touches itself" in words for _, words, _ in refused(pinched))


def test_corners_that_are_not_square(refused: Callable[..., list[tuple[str, str, str]]]) -> None:
    rows = refused([(0, 0), (6000, 0), (6000, 6000), (1000, 6000)])
    assert [tail for tail, *_ in rows] == ["[0].at", "[3].at"]
    assert "turns by 99.46 degrees" in rows[0][1]
    assert all("90 degrees" in remedy for *_, remedy in rows)


def test_only_the_inner_corners_of_an_open_outline_are_corners(
    refused: Callable[..., list[tuple[str, str, str]]],
) -> None:
    ((tail, words, _),) = refused([(0, 0), (6000, 0), (7000, 6000), (1000, 7000)], closed=False)
    assert tail == "[1].at"
    assert "turns by 80.54 degrees" in words
    assert loads(spec(SQUARE[:3], closed=False))


@pytest.mark.parametrize(("off", "good"), [(0.5, True), (2.0, False)])
def test_a_hundredth_of_a_degree_is_square(off: float, good: bool) -> None:
    text = spec([(0, 0), (6000, off), (6000, 6000), (0, 6000)])
    if good:
        assert loads(text)
    else:
        with pytest.raises(SpecError, match="90 degrees"):
            loads(text)


def test_walls_in_line(refused: Callable[..., list[tuple[str, str, str]]]) -> None:
    ((tail, words, remedy),) = refused([SQUARE[0], (3000, 0), *SQUARE[1:]])
    assert tail == "[1].at"
    assert "wall W1 goes straight on" in words
    assert "take this corner out" in remedy


def test_a_closed_outline_with_too_few_corners(refused: Callable[..., list[tuple[str, str, str]]]) -> None:
    rows = refused(SQUARE[:3])
    assert rows[0][:2] == ("", "a closed outline has at least 4 corners, and this one has 3")
    assert "closed: false" in rows[0][2]


@given(
    st.lists(st.integers(1, 9), min_size=2, max_size=6, unique=True),
    st.integers(0, 11),
    st.booleans(),
)
def test_stairs_are_outlines_from_any_corner_and_clockwise_never(steps: list[int], first: int, clockwise: bool) -> None:
    """A staircase of any steps is a good outline whichever corner comes first, and refused when reversed."""
    stairs = sorted(steps)
    points: list[tuple[float, float]] = [(0, 0), (stairs[-1] * 1000, 0)]
    for low, high in zip(stairs[::-1][1:], stairs[::-1], strict=False):
        level = (stairs[-1] - low) * 1000
        points += [(high * 1000, level), (low * 1000, level)]
    points += [(stairs[0] * 1000, 12_000), (0, 12_000)]
    first %= len(points)
    turned = points[first:] + points[:first]
    if clockwise:
        with pytest.raises(SpecError, match="clockwise"):
            loads(spec(turned[::-1]))
    else:
        assert loads(spec(turned))
