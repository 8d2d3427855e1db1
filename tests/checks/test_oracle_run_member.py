"""The verdict on a run and a stick agrees with a solid modeller on hundreds of random pairs."""

from __future__ import annotations

import numpy as np
import pytest

from panelgen.checks.run_member import run_member
from panelgen.checks.scene import Scene
from panelgen.model import Finding, Member, RunPart
from tests.checks.builders import panel
from tests.checks.oracle import random_member, run_meets_member, run_through


def clashes(part: RunPart, stick: Member) -> list[Finding]:
    """The findings of wood in the way; a run that only stops in a hole shares no space with the wood."""
    return [f for f in run_member(Scene.of([panel([stick], [part])])) if f.value is not None]


@pytest.mark.parametrize(
    ("kind", "seed", "bores", "notches"),
    [("plain", 41, 0, 0), ("bored", 42, 2, 0), ("notched", 43, 0, 2), ("bored and notched", 44, 2, 1)],
)
def test_runs_against_sticks(kind: str, seed: int, bores: int, notches: int) -> None:
    rng = np.random.default_rng(seed)
    decided, meets = 0, 0
    for _ in range(140):
        stick = random_member(rng, bores=bores, notches=notches)
        part = run_through(rng, stick)
        verdict = run_meets_member(part, stick)
        if verdict.decided:
            assert bool(clashes(part, stick)) == verdict.meets, (kind, part, stick)
            decided += 1
            meets += verdict.meets
    assert decided >= 130
    assert decided * 0.15 < meets < decided * 0.85
