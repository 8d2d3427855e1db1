"""The split of a wall against brute force over every set of joints."""

from __future__ import annotations

from itertools import combinations, pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.design.split.lengths import legal_joints, split


def brute_force(
    framing: tuple[float, float], joints: tuple[float, ...], longest: float, shortest: float
) -> tuple[int, float] | None:
    best = None
    for count in range(len(joints) + 1):
        for chosen in combinations(joints, count):
            stops = [framing[0], *chosen, framing[1]]
            lengths = [b - a for a, b in pairwise(stops)]
            if all(shortest <= length <= longest for length in lengths):
                score = (len(lengths), sum(length * length for length in lengths))
                best = min(best, score) if best else score
        if best:
            return best
    return best


@settings(max_examples=200, deadline=None)
@given(
    length=st.integers(1500, 9000),
    holes=st.lists(st.tuples(st.integers(0, 8500), st.integers(300, 1500)), max_size=4),
    longest=st.sampled_from([1800.0, 2440.0, 3660.0]),
)
def test_split_equals_brute_force(length: int, holes: list[tuple[int, int]], longest: float) -> None:
    framing = (0.0, float(length))
    layout = [609.6 * n for n in range(int(length / 609.6) + 1)]
    clear = [(float(a), float(a + w)) for a, w in holes]
    joints = legal_joints(layout, framing, clear, 300.0, 600.0)
    spans = split(framing, joints, longest, 600.0)
    expected = brute_force(framing, joints, longest, 600.0)
    if spans is None:
        assert expected is None
        return
    assert expected is not None
    assert len(spans) == expected[0]
    assert abs(sum((b - a) ** 2 for a, b in spans) - expected[1]) < 1e-3 * expected[1]
    assert spans[0][0] == framing[0]
    assert spans[-1][1] == framing[1]


def test_joints_keep_clear_of_openings() -> None:
    joints = legal_joints([600.0 * n for n in range(11)], (0.0, 6000.0), [(1000.0, 2000.0)], 300.0, 600.0)
    assert joints == (600.0, 2400.0, 3000.0, 3600.0, 4200.0, 4800.0, 5400.0)
