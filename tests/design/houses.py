"""Small houses for tests, as spec data: one straight wall, or an outline with partitions."""

from __future__ import annotations

from typing import Any

from panelgen.spec import HouseSpec

__all__ = ["ASSEMBLIES", "house_data", "one_wall"]

ASSEMBLIES: dict[str, Any] = {
    "exterior": {
        "layers": [
            {"layer": "sheathing", "product": "osb-7/16", "barrier": "weather"},
            {"layer": "framing", "stock": "2x6", "spacing": "24 in"},
            {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
            {"layer": "strapping", "stock": "2x3", "spacing": "24 in"},
        ]
    },
    "bare": {"layers": [{"layer": "framing", "stock": "2x4", "insulation": None}]},
}

UNIT_TYPES: dict[str, Any] = {
    "window-30x48": {"kind": "window", "width": "30 in", "height": "48 in"},
    "window-60x48": {"kind": "window", "width": "60 in", "height": "48 in"},
    "door-36x80": {"kind": "door", "width": "36 in", "height": "80 in"},
    "gate-144x80": {"kind": "door", "width": "144 in", "height": "80 in"},
}


def house_data(levels: list[dict[str, Any]], **more: Any) -> dict[str, Any]:
    """A whole spec as plain data; `more` replaces or adds top-level fields."""
    data: dict[str, Any] = {
        "panelgen": 1,
        "house": "Test house",
        "design": {"ground_snow": "30 psf", "building_width": "24 ft"},
        "assemblies": ASSEMBLIES,
        "unit_types": UNIT_TYPES,
        "levels": levels,
    }
    return data | more


def one_wall(
    length: str | float = "16 ft",
    openings: list[dict[str, Any]] | None = None,
    assembly: str = "exterior",
    wall: dict[str, Any] | None = None,
    **more: Any,
) -> HouseSpec:
    """A spec with a single exterior wall ``N1`` starting at the origin; openings get its name."""
    line = {"wall": "N1", "assembly": assembly, "start": [0, 0], "end": [length, 0], "exterior": True}
    line |= {"along": "outer face"} | (wall or {})
    level = {"id": "1", "elevation": 0, "height": "97-1/8 in", "walls": [line]}
    rows = [{"wall": "N1"} | row for row in openings or []]
    return HouseSpec.model_validate(house_data([level], openings=rows, **more), context={"unit": "mm"})
