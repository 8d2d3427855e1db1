"""Houses of one storey under a roof of rafters, with or without a ceiling and a bearing wall below the ridge."""

from __future__ import annotations

from typing import Any

from panelgen.design.house import design
from panelgen.model import House
from panelgen.spec import HouseSpec
from tests.design.houses import house_data
from tests.design.roofs.houses import Ring

GABLES = [{"edge": "w1", "kind": "gable"}, {"edge": "w3", "kind": "gable"}]

_WALL = {
    "layers": [
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "weather"},
        {"layer": "framing", "stock": "2x6", "spacing": "16 in"},
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
    ]
}
_CEILING = {
    "layers": [
        {"layer": "framing", "stock": "2x8", "spacing": "16 in"},
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
    ]
}
_CEILING_DEPTH = 184.15 + 11.1125


def roofed(
    ring: Ring,
    *,
    rise: str = "6 in",
    edges: list[dict[str, Any]] | None = None,
    rafters: str = "2x10",
    ceiling: str = "",
    walls: tuple[dict[str, Any], ...] = (),
    **more: Any,
) -> House:
    """A house over an outline whose walls are w0, w1 and so on, a roof on it and on the ceiling, if there is one.

    `ceiling` is the plan axis of its joists; `walls` are more walls inside.
    """
    corners = [{"wall": f"w{n}", "at": list(at)} for n, at in enumerate(ring)]
    level = {"id": "1", "elevation": 0, "height": 2500.0, "walls": list(walls)}
    level |= {"outlines": [{"assembly": "wall", "corners": corners}]}
    roof = {"id": "R", "level": "1", "assembly": "roof", "rise": rise, "edges": edges or []} | more
    if ceiling:
        roof |= {"plate": 2500.0 + _CEILING_DEPTH}
    skin = {"layer": "sheathing", "product": "osb-15/32", "barrier": "weather"}
    roof_layers = {"layers": [skin, {"layer": "framing", "stock": rafters, "spacing": "16 in"}]}
    partition = {"layers": [{"layer": "framing", "stock": "2x6", "spacing": "16 in", "insulation": None}]}
    data = house_data(
        [level],
        assemblies={"wall": _WALL, "roof": roof_layers, "ceiling": _CEILING, "partition": partition},
        roofs=[roof],
        ceilings=[{"id": "C", "level": "1", "assembly": "ceiling", "joists": ceiling}] if ceiling else [],
        shop={"line_length": 7400.0, "line_height": 3100.0, "longest_stock": 7400.0},
    )
    return design(HouseSpec.model_validate(data, context={"unit": "mm"}))
