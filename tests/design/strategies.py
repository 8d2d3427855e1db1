"""Random panels that the shop could build: level or raked, with openings that leave room for their studs."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import strategies as st

from panelgen.design.brief import OpeningBrief, PanelBrief
from tests.design.builders import FOOT, brief, door, window

__all__ = ["Sketch", "sketches"]

SLOT = 1400.0
"""Each opening has a stretch of this length (mm) to itself."""


@dataclass(frozen=True, slots=True)
class Sketch:
    """What a random panel is made from: small enough to print."""

    length: float
    top: float | list[tuple[float, float]]
    openings: tuple[OpeningBrief, ...]
    wall_start: float
    joined: tuple[bool, bool]

    def brief(self) -> PanelBrief:
        """The brief of that panel."""
        return brief(self.length, self.top, *self.openings, wall_start=self.wall_start, joined=self.joined)


@st.composite
def sketches(draw: st.DrawFn, *, raked: bool | None = None) -> Sketch:
    """A panel of 4 to 24 ft with zero to three openings."""
    length = draw(st.floats(4 * FOOT, 24 * FOOT))
    wall_start = draw(st.floats(0.0, 40 * FOOT))
    height = draw(st.floats(7.5 * FOOT, 11.5 * FOOT))
    top: float | list[tuple[float, float]] = height
    if draw(st.booleans()) if raked is None else raked:
        slope = draw(st.floats(2 / 12, 12 / 12))
        peak = draw(st.sampled_from([0.0, length / 2, length]))
        top = [(x, height + slope * (max(peak, length - peak) - abs(x - peak))) for x in sorted({0.0, peak, length})]
    openings: list[OpeningBrief] = []
    slots = [n for n in range(int((length - 2 * 300.0) // SLOT)) if draw(st.booleans())]
    for n in slots[:3]:
        middle = 300.0 + SLOT * (n + 0.5)
        half = draw(st.floats(200.0, 480.0))
        head = draw(st.floats(1500.0, 2000.0))
        sill = draw(st.floats(300.0, 1000.0))
        make = draw(st.sampled_from(["window", "door"]))
        if make == "door":
            openings.append(door(middle - half, middle + half, head, f"d{n}"))
        else:
            openings.append(window(middle - half, middle + half, sill, head, f"w{n}"))
    joined = draw(st.tuples(st.booleans(), st.booleans()))
    return Sketch(length, top, tuple(openings), wall_start, joined)
