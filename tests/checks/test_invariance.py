"""Where a panel stands, and which way round it is seen, changes nothing that the checks find."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.checks import check_panel
from panelgen.checks.runs.crossing import run_run
from panelgen.checks.runs.member import run_member
from panelgen.checks.scene import Scene
from panelgen.checks.sticks import member_member
from panelgen.geometry.frames import Frame
from panelgen.model import Finding, Panel
from tests.checks.builders import DEPTH, house, run
from tests.checks.looking import CATALOG
from tests.checks.strategies import LENGTH, mirrored, random_panel, shifted

seeds = st.integers(0, 10**6)
few = settings(deadline=None, max_examples=25)


def summary(findings: list[Finding] | tuple[Finding, ...]) -> Counter[tuple[object, ...]]:
    """What is found, with its measure, whatever the order and the place."""
    return Counter(
        (
            f.code,
            f.parts if f.code != "run.run" else tuple(sorted(f.parts)),
            None if f.value is None else round(f.value, 3),
        )
        for f in findings
    )


def clashes(panel: Panel) -> list[Finding]:
    scene = Scene.of((panel,))
    return [*run_member(scene), *run_run(scene), *member_member(scene)]


def everything(panel: Panel) -> tuple[Finding, ...]:
    return check_panel(panel, house(panel), CATALOG)


def test_random_panels_are_worth_asking_about() -> None:
    found = Counter(f.code for seed in range(30) for f in everything(random_panel(np.random.default_rng(seed))))
    assert found["run.member"] >= 30
    assert {"run.member", "run.run", "run.opening", "bore.size", "bore.edge"} <= set(found)


@few
@given(seeds, st.tuples(*[st.floats(-1e4, 1e4)] * 3))
def test_moving_all_parts_together(seed: int, by: tuple[float, float, float]) -> None:
    panel = random_panel(np.random.default_rng(seed))
    assert summary(clashes(shifted(panel, by))) == summary(clashes(panel))


@few
@given(seeds)
def test_standing_elsewhere_in_the_house(seed: int) -> None:
    panel = random_panel(np.random.default_rng(seed))
    moved = replace(panel, frame=Frame((5e4, -3e4, 2700.0), (0.6, 0.8, 0.0), (0.0, 0.0, 1.0)))
    assert summary(everything(moved)) == summary(everything(panel))
    for here, there in zip(everything(panel), everything(moved), strict=True):
        assert there.point == here.point


@few
@given(seeds)
def test_seen_in_a_mirror(seed: int) -> None:
    panel = random_panel(np.random.default_rng(seed))
    assert summary(everything(mirrored(panel))) == summary(everything(panel))
    assert summary(everything(mirrored(mirrored(panel)))) == summary(everything(panel))


@few
@given(seeds)
def test_order_of_parts_does_not_matter(seed: int) -> None:
    rng = np.random.default_rng(seed)
    panel = random_panel(rng)
    members = tuple(panel.members[k] for k in rng.permutation(len(panel.members)))
    runs = tuple(panel.runs[k] for k in rng.permutation(len(panel.runs)))
    assert summary(everything(replace(panel, members=members, runs=runs))) == summary(everything(panel))


@few
@given(seeds, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_run_clear_of_everything_adds_nothing(seed: int, a: float, b: float) -> None:
    """Upright in a stud bay, beside the window, in front of the other runs' depth."""
    panel = random_panel(np.random.default_rng(seed))
    x = 400.0 * round(1 + a * 1) + 38.1 + 10.0 + b * (361.9 - 20.0)
    clear = run((x, 45.0, 8.0), (x, 2395.0, 8.0), id="clear.1", diameter=12.0)
    runs = tuple(part for part in panel.runs if all(z > 8.0 + 6.0 + part.diameter / 2 for _, _, z in part.path))
    before = replace(panel, runs=runs)
    assert everything(replace(before, runs=(*runs, clear))) == everything(before)


@few
@given(seeds)
def test_a_panel_without_runs_and_bores_is_clean(seed: int) -> None:
    panel = random_panel(np.random.default_rng(seed))
    bare = replace(panel, runs=(), members=tuple(replace(m, bores=()) for m in panel.members))
    assert everything(bare) == ()
    assert panel.length == LENGTH
    assert bare.depth[1] > DEPTH
