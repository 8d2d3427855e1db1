"""Houses with floors and ceilings for tests: walls around an outline in plan, a floor on them, and its rooms."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from hypothesis import strategies as st

from panelgen.spec import HouseSpec
from tests.design.houses import house_data

__all__ = ["ELL", "FOOT", "RECTANGLE", "STAIR", "bearing", "floored", "outlines"]

FOOT = 304.8
_HEIGHT = 2466.975  # 97-1/8 in

Ring = tuple[tuple[float, float], ...]

RECTANGLE: Ring = ((0.0, 0.0), (40 * FOOT, 0.0), (40 * FOOT, 24 * FOOT), (0.0, 24 * FOOT))
ELL: Ring = (
    (0.0, 0.0),
    (40 * FOOT, 0.0),
    (40 * FOOT, 24 * FOOT),
    (24 * FOOT, 24 * FOOT),
    (24 * FOOT, 34 * FOOT),
    (0.0, 34 * FOOT),
)
STAIR: dict[str, Any] = {"id": "ST1", "at": [18 * FOOT, 13 * FOOT], "size": [1016.0, 2794.0]}

_ASSEMBLIES: dict[str, Any] = {
    "exterior": {
        "layers": [
            {"layer": "sheathing", "product": "osb-7/16", "barrier": "weather"},
            {"layer": "framing", "stock": "2x6", "spacing": "16 in"},
            {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
        ]
    },
    "partition": {"layers": [{"layer": "framing", "stock": "2x4", "spacing": "16 in", "insulation": None}]},
    "ceiling": {
        "layers": [
            {"layer": "framing", "stock": "2x8", "spacing": "24 in"},
            {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
            {"layer": "strapping", "stock": "1x3", "spacing": "16 in"},
        ]
    },
}


def _floor(stock: str, spacing: float) -> dict[str, Any]:
    return {
        "layers": [
            {"layer": "sheathing", "product": "osb-23/32"},
            {"layer": "framing", "stock": stock, "spacing": spacing, "insulation": None},
        ]
    }


def floored(
    ring: Ring = RECTANGLE,
    *,
    stock: str = "i-11-7/8x2-1/2",
    depth: float = 301.625,
    spacing: float = 19.2 * 25.4,
    joists: str = "y",
    openings: Sequence[dict[str, Any]] = (),
    lower: Sequence[dict[str, Any]] = (),
    upper: Sequence[dict[str, Any]] = (),
    floor: dict[str, Any] | None = None,
    ceiling: dict[str, Any] | None = None,
    **more: Any,
) -> HouseSpec:
    """Two storeys over `ring`, a floor F2 between them, and a ceiling where it is asked for.

    `lower` and `upper` are more walls. `depth` is the width of the joists' stock, mm.
    """

    def walls(level: str) -> list[dict[str, Any]]:
        return [
            {
                "assembly": "exterior",
                "corners": [{"wall": f"{level}{chr(ord('A') + n)}", "at": list(at)} for n, at in enumerate(ring)],
            }
        ]

    levels = [
        {"id": "1", "elevation": 0, "height": _HEIGHT, "outlines": walls("1"), "walls": list(lower)},
        {
            "id": "2",
            "elevation": _HEIGHT + depth + 23 / 32 * 25.4,
            "height": _HEIGHT,
            "outlines": walls("2"),
            "walls": list(upper),
        },
    ]
    deck = {"id": "F2", "level": "2", "assembly": "floor", "joists": joists, "openings": list(openings)}
    data = house_data(
        levels,
        assemblies=_ASSEMBLIES | {"floor": _floor(stock, spacing)},
        floors=[deck | (floor or {})],
        ceilings=[{"id": "C2", "level": "2", "assembly": "ceiling", "joists": joists} | ceiling] if ceiling else [],
        **more,
    )
    return HouseSpec.model_validate(data, context={"unit": "mm"})


def bearing(name: str, start: tuple[float, float], end: tuple[float, float], carries: bool = True) -> dict[str, Any]:
    """A partition between two plan points."""
    return {"wall": name, "assembly": "partition", "start": list(start), "end": list(end), "bearing": carries}


def _lengths(low: int, high: int) -> st.SearchStrategy[float]:
    """Lengths to 10 mm."""
    return st.integers(low, high).map(lambda tens: 10.0 * tens)


@st.composite
def outlines(draw: st.DrawFn) -> Ring:
    """Rectangles, and L, T and U shapes, some of them turned, somewhere in plan."""
    wide, long = draw(_lengths(300, 1600)), draw(_lengths(300, 1200))
    x0, y0 = draw(_lengths(-500, 500)), draw(_lengths(-500, 500))
    kind = draw(st.sampled_from("rLTU"))
    a, b = wide * draw(st.integers(25, 40)) / 100, wide * draw(st.integers(60, 75)) / 100
    h = long * draw(st.integers(30, 70)) / 100
    rings: dict[str, Ring] = {
        "r": ((0.0, 0.0), (wide, 0.0), (wide, long), (0.0, long)),
        "L": ((0.0, 0.0), (wide, 0.0), (wide, h), (a, h), (a, long), (0.0, long)),
        "T": ((0.0, h), (a, h), (a, 0.0), (b, 0.0), (b, h), (wide, h), (wide, long), (0.0, long)),
        "U": ((0.0, 0.0), (wide, 0.0), (wide, long), (b, long), (b, h), (a, h), (a, long), (0.0, long)),
    }
    turns = draw(st.integers(0, 3))
    ring = rings[kind]
    for _ in range(turns):
        ring = tuple((-y, x) for x, y in ring)
    return tuple((x + x0, y + y0) for x, y in ring)
