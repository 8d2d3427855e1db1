"""No shorter way, and none with fewer bends: against a search of every step of a lattice by other means.

Everything in the way lies so that its sides, seen from the axis of the run, are lines of the lattice: then no
way in the plane is shorter than the best one on the lattice.
"""

from __future__ import annotations

import heapq
from itertools import pairwise
from unittest import mock

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.geometry.frames import Frame
from panelgen.model import Box, House, Member, Opening, Role, RunPart
from panelgen.routing import EndPoint, Route, search
from tests.checks.builders import FLAT, UPRIGHT, WHY, member, opening, panel, run
from tests.routing.places import FRAMING, bare_house, routed

STEP = 50.0
WIDE, HIGH = 12, 8
DIAMETER = 50.0
RADIUS = DIAMETER / 2
Node = tuple[int, int]


@st.composite
def rectangles(draw: st.DrawFn) -> tuple[float, float, float, float]:
    """x0, y0, x1, y1 such that the sides grown by the run's radius are lines of the lattice."""
    x, y = draw(st.integers(0, WIDE - 2)), draw(st.integers(0, HIGH - 2))
    wide, high = draw(st.integers(1, 4)), draw(st.integers(1, 4))
    return x * STEP + RADIUS, y * STEP + RADIUS, (x + wide + 1) * STEP - RADIUS, (y + high + 1) * STEP - RADIUS


nodes = st.tuples(st.integers(1, WIDE - 1), st.integers(1, HIGH - 1))


def block(n: int, x0: float, y0: float, x1: float, y1: float) -> Member:
    """Flat stock that no run may go through: its wide face is the face of the wall."""
    size = (x1 - x0, y1 - y0, 139.7)
    return member(f"block{n}", Role.BLOCKING, Frame((x0, y0, 0.0), *FLAT), size)


def device(n: int, x0: float, y0: float, x1: float, y1: float) -> Box:
    return Box(f"box{n}", "box", (x1 - x0, y1 - y0, 139.7), Frame((x0, y1, 139.7), (1, 0, 0), (0, -1, 0)), WHY)


def pipe(n: int, x0: float, y0: float, x1: float, y1: float) -> RunPart:
    """A run along the longer side of the rectangle, as thick as the shorter one."""
    thick = min(x1 - x0, y1 - y0)
    if x1 - x0 >= y1 - y0:
        ends = (x0, (y0 + y1) / 2, FRAMING), (x1, (y0 + y1) / 2, FRAMING)
    else:
        ends = ((x0 + x1) / 2, y0, FRAMING), ((x0 + x1) / 2, y1, FRAMING)
    return run(*ends, diameter=thick, id=f"pipe{n}.1", system="vent")


def gap(n: int, x0: float, y0: float, x1: float, y1: float) -> Opening:
    return opening(f"o{n}", x0, x1, y0, y1)


Things = list[tuple[str, tuple[float, float, float, float]]]


def scene(things: Things) -> House:
    """A wall without plates, with these things in it."""
    made = {"block": block, "device": device, "pipe": pipe, "gap": gap}
    parts = {kind: [make(n, *box) for n, (own, box) in enumerate(things) if own == kind] for kind, make in made.items()}
    one = panel(
        parts["block"],
        parts["pipe"],
        length=WIDE * STEP,
        height=HIGH * STEP,
        openings=tuple(parts["gap"]),
        boxes=tuple(parts["device"]),
    )
    return bare_house(one)


def free(shapes: np.ndarray, things: Things) -> list[bool]:
    """Which of some areas are inside the wall and share none with the things in it."""
    solid = shapely.union_all([shapely.box(*box) for _, box in things]) if things else shapely.Polygon()
    outside = shapely.difference(shapes, shapely.box(0.0, 0.0, WIDE * STEP, HIGH * STEP))
    return ((shapely.area(shapely.intersection(shapes, solid)) < 1e-3) & (shapely.area(outside) < 1e-3)).tolist()


def best_on_lattice(things: Things, start: Node, goal: Node) -> tuple[int, int] | None:
    """Steps and bends of the best way: every step and turn tried with the run drawn as an area."""
    places = [(x, y) for x in range(WIDE + 1) for y in range(HIGH + 1)]
    moves = [(p, (p[0] + a, p[1] + b)) for p in places for a, b in ((1, 0), (0, 1))]
    lines = shapely.linestrings(np.array(moves) * STEP)
    straight = dict(zip(moves, free(shapely.buffer(lines, RADIUS, cap_style="flat"), things), strict=True))
    corners = shapely.buffer(shapely.points(np.array(places) * STEP), RADIUS, cap_style="square")
    turning = dict(zip(places, free(corners, things), strict=True))
    heap: list[tuple[int, int, Node, Node]] = [(0, 0, start, (0, 0))]
    done = set()
    while heap:
        steps, bends, here, way = heapq.heappop(heap)
        if here == goal:
            return steps, bends
        if (here, way) in done:
            continue
        done.add((here, way))
        for ahead in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            there = here[0] + ahead[0], here[1] + ahead[1]
            turns = way not in ((0, 0), ahead)
            backward = way == (-ahead[0], -ahead[1])
            if straight.get((min(here, there), max(here, there))) and not backward and (not turns or turning[here]):
                heapq.heappush(heap, (steps + 1, bends + turns, there, ahead))
    return None


@settings(max_examples=100, deadline=None)
@given(
    things=st.lists(st.tuples(st.sampled_from(["block", "device", "pipe", "gap"]), rectangles()), max_size=7),
    start=nodes,
    goal=nodes,
)
def test_as_short_and_as_straight_as_the_best_on_the_lattice(things: Things, start: Node, goal: Node) -> None:
    if start == goal or any(
        x0 - RADIUS <= n[0] * STEP <= x1 + RADIUS and y0 - RADIUS <= n[1] * STEP <= y1 + RADIUS
        for n in (start, goal)
        for _, (x0, y0, x1, y1) in things
    ):
        return
    ends = [(n[0] * STEP, n[1] * STEP, FRAMING) for n in (start, goal)]
    route = routed(scene(things), *ends, diameter=DIAMETER, system="heating")
    best = best_on_lattice(things, start, goal)
    assert route.found == (best is not None)
    if best is not None:
        assert (route.length, route.bends) == (pytest.approx(best[0] * STEP), best[1])
        assert all(sum(a != b for a, b in zip(p, q, strict=True)) == 1 for p, q in pairwise(route.points))


@settings(max_examples=60, deadline=None)
@given(
    things=st.lists(st.tuples(st.sampled_from(["block", "gap"]), rectangles()), max_size=7),
    bend_cost=st.sampled_from([0.0, 120.0]),
)
def test_a_search_that_is_lost_finds_the_same(things: Things, bend_cost: float) -> None:
    at = scene(things)
    ends = (STEP, STEP, FRAMING), ((WIDE - 1) * STEP, (HIGH - 1) * STEP, FRAMING)
    plain, guided = (_with_patience(patience, at, ends, bend_cost) for patience in (search._PATIENCE, 0))
    assert (plain.found, plain.bends, plain.length) == (guided.found, guided.bends, pytest.approx(guided.length))


def _with_patience(patience: int, at: House, ends: tuple[EndPoint, EndPoint], bend_cost: float) -> Route:
    with mock.patch.object(search, "_PATIENCE", patience):
        return routed(at, *ends, diameter=DIAMETER, system="heating", bend_cost=bend_cost)


def test_a_bend_is_worth_more_length_where_asked() -> None:
    at = scene([("gap", (125.0, 175.0, 175.0, 325.0)), ("gap", (425.0, 75.0, 475.0, 225.0))])
    ends = (50.0, 200.0, FRAMING), (550.0, 200.0, FRAMING)
    shortest = routed(at, *ends, diameter=DIAMETER, system="heating")
    straighter = routed(at, *ends, diameter=DIAMETER, system="heating", bend_cost=300.0)
    assert (shortest.length, shortest.bends) == (pytest.approx(700.0), 4)
    assert (straighter.length, straighter.bends) == (pytest.approx(800.0), 2)


def test_stud_uprights_are_crossed_where_the_rule_allows_and_nowhere_else() -> None:
    size = (HIGH * STEP, 139.7, 50.0)
    studs = [member(f"stud{n}", Role.STUD, Frame((225.0 + 200.0 * n, 0.0, 0.0), *UPRIGHT), size) for n in range(2)]
    at = bare_house(panel(studs, length=14 * STEP, height=HIGH * STEP))
    route = routed(at, (100.0, 100.0, FRAMING), (600.0, 300.0, FRAMING), diameter=DIAMETER, system="heating")
    assert (route.length, route.bends) == (pytest.approx(700.0), 1)
    assert [bore.member for bore in route.bores] == ["stud0", "stud1"]
    assert routed(at, (100.0, 100.0, FRAMING), (600.0, 300.0, FRAMING), diameter=54.0, system="heating").bores == ()
