from __future__ import annotations

import pytest

from panelgen.checks.scene import Scene
from panelgen.checks.shell.whole_panels import panel_size, panel_too_heavy
from panelgen.model import Bay, ShopLimits
from panelgen.model.masses import panel_mass
from tests.checks.builders import DEPTH, WHY, panel, sheet, stud

LINE = ShopLimits(7315.2, 3048.0, 1360.0, 76.2)


@pytest.mark.parametrize(
    ("length", "height", "words"),
    [
        (7315.2, 3048.0, []),
        (7315.3, 3048.0, ["too long"]),
        (7315.2, 3049.0, ["too high"]),
        (8000.0, 3100.0, ["too long", "too high"]),
    ],
)
def test_size_of_the_line(length: float, height: float, words: list[str]) -> None:
    findings = panel_size(Scene.of((panel(length=length, height=height),)), LINE)
    assert [finding.code for finding in findings] == ["panel.size"] * len(words)
    assert all(word in finding.words for word, finding in zip(words, findings, strict=True))


def test_mass_is_exact_where_the_blanks_alone_are_too_heavy() -> None:
    outline = ((0.0, 0.0), (1219.2, 0.0), (1219.2, 2438.4), (0.0, 2438.4))
    bay = Bay("bay", outline, (), 0.0, DEPTH, 0.4, 0.4, "dense-pack-cellulose", 56.0, WHY)
    window = ((100.0, 100.0), (900.0, 100.0), (900.0, 2000.0), (100.0, 2000.0))
    whole = panel(
        [stud(0.0), stud(1181.1)], sheets=(sheet("s", 0.0, 0.0, 1219.2, 2438.4, cutouts=[window]),), bays=(bay,)
    )
    mass = panel_mass(whole)
    for limit, heavy in ((mass - 0.001, True), (mass + 0.001, False)):
        findings = panel_too_heavy(Scene.of((whole,)), ShopLimits(7315.2, 3048.0, limit, 76.2))
        assert [(finding.code, finding.value, finding.unit) for finding in findings] == (
            [("panel.mass", pytest.approx(mass), "kg")] if heavy else []
        )
