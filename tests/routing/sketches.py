"""Random walls with openings, services, boxes and backing, and routes to look for in them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

from panelgen.routing import RouteRequest
from panelgen.spec import HouseSpec
from tests.design.houses import ASSEMBLIES, house_data

__all__ = ["Sketch", "sketches"]

FOOT = 304.8
SIZES = (
    ("power", "nm-12/2"), ("power", "nm-10/2"), ("data", "nm-14/2"), ("low voltage", "emt-1/2"), ("power", "emt-3/4"),
    ("cold water", "pex-1/2"), ("hot water", "pex-3/4"), ("cold water", "copper-1/2"), ("hot water", "copper-3/4"),
    ("heating", "copper-1"), ("gas", "copper-1/2"), ("cold water", "cpvc-1/2"), ("drain", "pvc-1-1/2"),
    ("vent", "pvc-2"), ("supply air", "duct-4"), ("return air", "duct-3-1/4x10"),
)  # fmt: skip

WALLS = ASSEMBLIES | {
    "close": {
        "layers": [
            {**layer, "spacing": "16 in"} if "stock" in layer else layer for layer in ASSEMBLIES["exterior"]["layers"]
        ]
    },
    "bearing": {"layers": [{"layer": "framing", "stock": "2x6", "insulation": None}]},
}


@dataclass(frozen=True, slots=True)
class Sketch:
    """The spec of one wall, N1, and what to route in it."""

    spec: HouseSpec
    request: RouteRequest


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths to a tenth of a millimetre, as a person would write them."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda tenths: tenths / 10)


@st.composite
def sketches(draw: st.DrawFn) -> Sketch:
    """A wall of 6 to 24 ft in one or more panels. Some of what is in it may be faulty before the route is there."""
    length = draw(lengths(6 * FOOT, 24 * FOOT))
    assembly = draw(st.sampled_from(["exterior", "exterior", "close", "bare", "bearing"]))
    strapped = assembly in ("exterior", "close")
    depths = ["cavity", "framing"] if strapped else ["framing"]
    line = {"wall": "N1", "assembly": assembly, "start": [0, 0], "end": [length, 0], "exterior": strapped}
    line |= {"along": "outer face", "bearing": assembly != "bare"}
    boxes = [_box(draw, n, length) for n in range(draw(st.integers(0, 2)))] if strapped else []
    data = house_data(
        [{"id": "1", "elevation": 0, "height": "97-1/8 in", "walls": [line]}],
        assemblies=WALLS,
        openings=_openings(draw, length),
        runs=[_run(draw, n, length, draw(st.sampled_from(depths))) for n in range(draw(st.integers(0, 3)))],
        boxes=boxes,
        backing=[_backing(draw, length)] if strapped and draw(st.booleans()) else [],
        shop={"line_length": draw(st.sampled_from(["12 ft", "24 ft"])), "line_height": "12 ft"},
    )
    system, size = draw(st.sampled_from(SIZES))
    depth = draw(st.sampled_from(depths))
    start, end = (_end(draw, length, depth, boxes) for _ in range(2))
    if draw(st.integers(0, 4)) == 0:
        end = (start[0], *end[1:])
    spec = HouseSpec.model_validate(data, context={"unit": "mm"})
    return Sketch(spec, RouteRequest(system, start, end, size=size, wall="N1", run="NEW"))


def _openings(draw: st.DrawFn, length: float) -> list[dict[str, Any]]:
    openings = []
    x = draw(lengths(300.0, 900.0))
    while True:
        kind = draw(st.sampled_from(["window-30x48", "window-60x48", "door-36x80"]))
        wide = 1600.0 if kind == "window-60x48" else 1000.0
        if x + wide + 250.0 > length:
            return openings
        if draw(st.booleans()):
            row = {"id": f"O{len(openings)}", "wall": "N1", "type": kind, "center": x + wide / 2}
            openings.append(row if kind == "door-36x80" else row | {"sill": draw(st.sampled_from([200.0, 800.0]))})
        x += wide + draw(lengths(250.0, 1500.0))


def _run(draw: st.DrawFn, n: int, length: float, depth: str) -> dict[str, Any]:
    system, size = draw(st.sampled_from(SIZES))
    x, y = draw(lengths(100.0, length - 100.0)), draw(lengths(50.0, 2400.0))
    if draw(st.booleans()):
        path = [[x, y, depth], [x + 900.0 if x < length / 2 else x - 900.0, y, depth]]
    else:
        path = [[x, y, depth], [x, y + 800.0 if y < 1200.0 else y - 800.0, depth]]
    return {"id": f"E{n}", "system": system, "size": size, "wall": "N1", "path": path}


def _box(draw: st.DrawFn, n: int, length: float) -> dict[str, Any]:
    at = [draw(lengths(150.0, length - 150.0)), draw(lengths(200.0, 2200.0))]
    return {"id": f"B{n}", "wall": "N1", "product": "square-4x1-1/4", "at": at}


def _backing(draw: st.DrawFn, length: float) -> dict[str, Any]:
    start = draw(lengths(100.0, length - 800.0))
    kind = draw(st.sampled_from(["strap", "blocking"]))
    return {
        "id": "K1",
        "wall": "N1",
        "start": start,
        "end": start + 600.0,
        "height": 1000.0,
        "kind": kind,
        "reason": "basin",
    }


def _end(draw: st.DrawFn, length: float, depth: str, boxes: list[dict[str, Any]]) -> tuple[float, float, str]:
    if boxes and depth == "cavity" and draw(st.integers(0, 3)) == 0:
        x, y = draw(st.sampled_from(boxes))["at"]
        return x, y, depth
    return draw(lengths(60.0, length - 60.0)), draw(lengths(0.0, 2460.0)), depth
