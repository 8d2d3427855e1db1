"""Random sticks for property tests: ends cut both ways, notches, and bores of every awkward kind."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from panelgen.geometry.frames import Frame
from panelgen.model import SQUARE, Bore, EndCut, Member, Notch
from tests.factories import THICK, WIDE, stick

__all__ = ["bored_sticks", "frames", "plain_sticks", "sticks"]


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths in mm to a tenth of a millimetre, as a person would write them."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda tenths: tenths / 10)


slopes = st.integers(-120, 120).map(lambda percent: percent / 100)


@st.composite
def frames(draw: st.DrawFn) -> Frame:
    """Frames turned any way."""
    yaw, pitch, roll = (math.radians(draw(st.integers(-180, 180))) for _ in range(3))
    x = (math.cos(yaw) * math.cos(pitch), math.sin(yaw) * math.cos(pitch), math.sin(pitch))
    level = (-math.sin(yaw), math.cos(yaw), 0.0)
    up = (-math.cos(yaw) * math.sin(pitch), -math.sin(yaw) * math.sin(pitch), math.cos(pitch))
    y = tuple(math.cos(roll) * a + math.sin(roll) * b for a, b in zip(level, up, strict=True))
    origin = tuple(draw(lengths(-3000.0, 3000.0)) for _ in range(3))
    return Frame(origin, x, y)


def end_cuts() -> st.SearchStrategy[EndCut]:
    """Square, mitred, bevelled, or both at once."""
    return st.one_of(
        st.just(SQUARE),
        slopes.map(lambda slope: EndCut(slope, 0.0)),
        slopes.map(lambda slope: EndCut(0.0, slope)),
        st.builds(EndCut, slopes, slopes),
    )


@st.composite
def notches(draw: st.DrawFn) -> Notch:
    """Notches anywhere along a stick, past its ends too."""
    start = draw(lengths(-50.0, 650.0))
    return Notch(start, start + draw(lengths(5.0, 200.0)), draw(lengths(2.0, 100.0)), draw(st.booleans()))


@st.composite
def bores(draw: st.DrawFn, leaning: bool) -> Bore:
    """Bores anywhere, so that many break an edge, an end or one another; some lean or lie level."""
    point = (draw(lengths(-30.0, 700.0)), draw(lengths(-30.0, WIDE + 30.0)), draw(lengths(0.0, THICK)))
    axis = (0.0, 0.0, 1.0)
    if leaning:
        turned = draw(frames())
        axis = draw(st.sampled_from([axis, (0.0, 1.0, 0.0), turned.x, turned.z]))
    return Bore(point, draw(lengths(6.0, 90.0)), axis)


@st.composite
def plain_sticks(draw: st.DrawFn) -> Member:
    """Sticks with cut ends and notches, placed anywhere; some so short that they are pointed."""
    return stick(
        length=draw(lengths(100.0, 700.0)),
        start=draw(end_cuts()),
        end=draw(end_cuts()),
        notches=tuple(draw(st.lists(notches(), max_size=2))),
        frame=draw(frames()),
    )


@st.composite
def bored_sticks(draw: st.DrawFn, leaning: bool = False) -> Member:
    """Sticks with cut ends and up to three bores."""
    return stick(
        length=draw(lengths(300.0, 700.0)),
        start=draw(end_cuts()),
        end=draw(end_cuts()),
        bores=tuple(draw(st.lists(bores(leaning), min_size=1, max_size=3))),
    )


@st.composite
def sticks(draw: st.DrawFn) -> Member:
    """Sticks with everything at once."""
    bored = draw(bored_sticks(leaning=draw(st.booleans())))
    plain = draw(plain_sticks())
    return stick(
        length=bored.length,
        start=bored.start,
        end=bored.end,
        bores=bored.bores,
        notches=plain.notches,
        frame=plain.frame,
    )
