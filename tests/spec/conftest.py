from __future__ import annotations

from collections.abc import Callable

import pytest

from panelgen.errors import Problem, SpecError
from panelgen.spec import loads

GOOD = """\
panelgen: 1
house: Test house
rules: irc-2021
design: {ground_snow: 30 psf, building_width: 24 ft}
shop: {line_length: 24 ft}
products:
  stock:
    2x7: {thickness: 38, width: 165}
  sheets:
    board-12: {thickness: 12, density: 600, sizes: [[1220, 2440]]}
assemblies:
  ext:
    layers:
      - {layer: sheathing, product: osb-7/16, barrier: weather}
      - {layer: framing, stock: 2x6, species: SPF, spacing: 24 in, insulation: dense-pack-cellulose}
      - {layer: sheathing, product: board-12, barrier: air, gap: 3}
      - {layer: strapping, stock: 2x3, species: SPF, spacing: 24 in}
  partition:
    layers:
      - {layer: framing, stock: 2x4, insulation: null}
levels:
  - id: "1"
    elevation: 0
    height: 2500
    outlines:
      - assembly: ext
        corners:
          - {wall: S, at: [0, 0]}
          - {wall: E, at: [8000, 0]}
          - {wall: N, at: [8000, 6000]}
          - {wall: W, at: [0, 6000]}
    walls:
      - {wall: P, assembly: partition, start: [4000, 0], end: [4000, 6000]}
  - id: "2"
    elevation: 2800
    height: 2500
    walls:
      - wall: G
        assembly: ext
        start: [0, 0]
        end: [8000, 0]
        exterior: true
        gable: {eave: 300, rise: 6 in, run: 12 in}
unit_types:
  casement: {kind: window, width: 900, height: 1200, clearance: {side: 10, head: 10, sill: 10}}
  hall door: {kind: door, width: 950, height: 2050, clearance: {side: 10, head: 10, sill: 10}}
openings:
  - {id: W1, wall: S, type: casement, center: 2000, sill: 900}
  - {id: D1, wall: S, type: hall door, center: 6000}
runs:
  - {id: R1, system: power, size: nm-12/2, wall: S, path: [[3000, 300, cavity], [3000, 2000, cavity]]}
  - {id: R2, system: cold water, diameter: 16, wall: W, path: [[500, 300, framing], [500, 300, 140], [900, 300, 140]]}
  - {id: R3, system: vent, size: pex-1/2, path: [[1000, 1000, 0], [1000, 1000, 5000]]}
sleeves:
  - {id: L1, run: R2, wall: W, at: [500, 300], product: sleeve-1, seal: gasket and tape}
boxes:
  - {id: B1, wall: S, product: square-4x1-1/4, at: [3000, 300]}
backing:
  - {id: K1, wall: E, start: 1000, end: 2000, height: 900, reason: grab bar}
waivers:
  - {code: bore.edge, part: 1W01-3, reason: engineer agreed, decided_by: the engineer}
"""

Refusal = Callable[..., Problem]


@pytest.fixture
def good() -> str:
    """A small house spec without a fault."""
    return GOOD


@pytest.fixture
def problems() -> Callable[[str], tuple[Problem, ...]]:
    """All problems of a text that must be refused."""

    def _problems(text: str) -> tuple[Problem, ...]:
        with pytest.raises(SpecError) as refused:
            loads(text, "test.yaml")
        assert refused.value.file == "test.yaml"
        return refused.value.problems

    return _problems


@pytest.fixture
def edited(good: str) -> Callable[..., str]:
    """The good spec with each `old` text, which must be there, replaced once by the `new` that follows it."""

    def _edited(*pairs: str) -> str:
        text = good
        for old, new in zip(pairs[::2], pairs[1::2], strict=True):
            assert text.count(old) == 1, f"{text.count(old)} times in the good spec: {old}"
            text = text.replace(old, new)
        return text

    return _edited


@pytest.fixture
def refusal(good: str, edited: Callable[..., str], problems: Callable[[str], tuple[Problem, ...]]) -> Refusal:
    """The one problem of the good spec after edits, on the line of the first edit or on the one marked ``#!``."""

    def _refusal(*pairs: str) -> Problem:
        text = edited(*pairs)
        (problem,) = problems(text)
        before = text[: text.index("#!")] if "#!" in text else good[: good.index(pairs[0])]
        assert problem.line == before.count("\n") + 1
        assert problem.remedy
        return problem

    return _refusal
