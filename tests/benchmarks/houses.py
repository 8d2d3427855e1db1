"""Specs of any size for the benchmarks: a row of two-storey plots, each of 20 exterior wall panels."""

from __future__ import annotations

from typing import Any

from panelgen.spec import HouseSpec

__all__ = ["PANELS_PER_PLOT", "row_of_plots"]

PANELS_PER_PLOT = 20

_FOOT = 304.8
_LENGTH, _WIDTH, _HEIGHT, _FLOOR = 40 * _FOOT, 24 * _FOOT, 2466.975, 319.9
_SHOP = {"line_length": "14 ft", "line_height": "10 ft"}
_EXTERIOR = {
    "layers": [
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "weather"},
        {"layer": "framing", "stock": "2x6", "spacing": "24 in"},
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
        {"layer": "strapping", "stock": "2x3", "spacing": "24 in"},
    ]
}
_UNITS = {"window": {"kind": "window", "width": "30 in", "height": "48 in"}}
_SIDES = ("south", "east", "north", "west")


def row_of_plots(plots: int) -> HouseSpec:
    """`plots` detached houses side by side as one spec: 20 panels, 20 windows and 160 runs each."""
    levels: list[dict[str, Any]] = []
    openings: list[dict[str, Any]] = []
    runs: list[dict[str, Any]] = []
    for number in range(2):
        outlines = []
        for plot in range(plots):
            x = plot * (_LENGTH + 6000.0)
            at = [[x, 0.0], [x + _LENGTH, 0.0], [x + _LENGTH, _WIDTH], [x, _WIDTH]]
            walls = [f"{plot}.{number}.{side}" for side in _SIDES]
            outlines.append(
                {"assembly": "exterior", "corners": [{"wall": w, "at": p} for w, p in zip(walls, at, strict=True)]}
            )
            for wall, length in zip(walls, (_LENGTH, _WIDTH, _LENGTH, _WIDTH), strict=True):
                openings += _windows(wall, length)
                runs += _runs(wall, length)
        levels.append(
            {"id": str(number + 1), "elevation": number * (_HEIGHT + _FLOOR), "height": _HEIGHT, "outlines": outlines}
        )
    data = {
        "panelgen": 1,
        "house": f"Row of {plots}",
        "design": {"ground_snow": "30 psf", "building_width": "24 ft"},
        "shop": _SHOP,
        "assemblies": {"exterior": _EXTERIOR},
        "unit_types": _UNITS,
        "levels": levels,
        "openings": openings,
        "runs": runs,
    }
    return HouseSpec.model_validate(data, context={"unit": "mm"})


def _windows(wall: str, length: float) -> list[dict[str, Any]]:
    count = 3 if length == _LENGTH else 2
    return [
        {
            "id": f"{wall}.w{n}",
            "wall": wall,
            "type": "window",
            "center": (n + 0.5) * length / count,
            "sill": "31-1/2 in",
        }
        for n in range(count)
    ]


def _runs(wall: str, length: float) -> list[dict[str, Any]]:
    """20 cables a wall, each through the studs of one half below the windows, with a rise at each end."""
    runs = []
    for n in range(20):
        y, z = 120.0 + 56.0 * (n // 2), 95.0 if n % 4 < 2 else 45.0
        near, far = 250.0 + 15.0 * n, length / 2 - 100.0 - 15.0 * n
        x0, x1 = (near, far) if n % 2 else (length - near, length - far)
        path = [[x0, y - 30.0, z], [x0, y, z], [x1, y, z], [x1, y + 30.0, z]]
        runs.append({"id": f"{wall}.r{n}", "system": "power", "size": "nm-12/2", "wall": wall, "path": path})
    return runs
