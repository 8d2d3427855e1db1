"""Random walls of one panel, as spec data, and the free room in them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from panelgen.design import design
from panelgen.model import House, LayerKind, Member, Panel
from panelgen.spec import HouseSpec

__all__ = ["Extent", "Wall", "random_wall"]

Extent = tuple[float, float, float, float]
"""x0, x1, y0, y1 of something in the panel's elevation, mm."""

_INNER = {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"}
_OUTER = {"layer": "sheathing", "product": "osb-7/16", "barrier": "weather"}
_UNITS = {
    "small": {"kind": "window", "width": 600.0, "height": 700.0},
    "window": {"kind": "window", "width": 760.0, "height": 1100.0},
    "door": {"kind": "door", "width": 914.0, "height": 2032.0},
}


@dataclass(frozen=True)
class Wall:
    """A wall as spec data, without services, and the house designed from it."""

    data: dict[str, Any]
    house: House
    stock: str
    strapped: bool
    sheathed: bool

    @property
    def panel(self) -> Panel:
        """The first panel of the wall."""
        return self.house.panels[0]

    @property
    def depth(self) -> float:
        """Depth of the framing, mm."""
        return self.panel.framing.z1

    @cached_property
    def uprights(self) -> list[Extent]:
        """Studs, posts, kings, jacks and cripples."""
        return [_extent(stick) for stick in self._framing if abs(stick.frame.x[1]) > 0.999]

    @cached_property
    def levels(self) -> list[Extent]:
        """Plates, headers, sills and blocking."""
        return [_extent(stick) for stick in self._framing if abs(stick.frame.x[1]) <= 0.999]

    @cached_property
    def rough_openings(self) -> list[Extent]:
        """The rough openings."""
        return [(one.x0, one.x1, one.y0, one.y1) for one in self.panel.openings]

    @cached_property
    def straps(self) -> list[Extent]:
        """The straps where no run is in their way."""
        return [_extent(stick) for stick in self.panel.members if stick not in self._framing]

    @cached_property
    def low_top(self) -> float:
        """Height of the lowest point of the top, mm."""
        return min(y for _, y in self.panel.profile if y > 0.0)

    @property
    def _framing(self) -> list[Member]:
        names = {layer.name for layer in self.panel.layers if layer.kind is LayerKind.FRAMING}
        return [stick for stick in self.panel.members if stick.layer in names]

    def designed(self, **services: list[dict[str, Any]]) -> House:
        """The house with these runs, boxes and sleeves."""
        spec = HouseSpec.model_validate(self.data | services, context={"unit": "mm"})
        return design(spec)


def _extent(stick: Member) -> Extent:
    corners = stick.corners()
    (x0, y0, _), (x1, y1, _) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    return (x0, x1, y0, y1)


def random_wall(rng: np.random.Generator, *, panels: int = 1) -> Wall:
    """A wall of random length, height, layers, spacing and top, with up to one opening; or a row of panels."""
    stock = str(rng.choice(("2x4", "2x6", "2x6")))
    sheathed = bool(rng.random() < 0.85)
    strapped = sheathed and bool(rng.random() < 0.7)
    framing = {
        "layer": "framing",
        "stock": stock,
        "spacing": float(rng.choice((406.4, 609.6))),
        "top_plates": int(rng.choice((1, 2, 2))),
    }
    inner = [_INNER] if sheathed else []
    straps = [{"layer": "strapping", "stock": "2x3", "spacing": 609.6}] if strapped else []
    outer = [_OUTER] if sheathed else []
    length = float(rng.uniform(1500.0, 4200.0)) if panels == 1 else panels * 2400.0
    height = float(rng.uniform(2350.0, 2900.0))
    line: dict[str, Any] = {
        "wall": "N1", "assembly": "layers", "start": [0, 0], "end": [length, 0], "exterior": sheathed, "bearing": True,
        "along": "outer face", "height": height,
    }  # fmt: skip
    if panels == 1 and rng.random() < 0.25:
        line["gable"] = {"eave": height - 300.0, "rise": float(rng.uniform(60.0, 150.0)), "peak": _peak(rng, length)}
        line["bearing"] = False  # taller studs that carry a roof need an engineer
        del line["height"]
    openings = []
    if panels == 1 and length > 2600.0 and "gable" not in line and rng.random() < 0.6:
        kind = str(rng.choice(tuple(_UNITS)))
        center = float(rng.uniform(1000.0, length - 1000.0))
        sill = {} if kind == "door" else {"sill": float(rng.uniform(700.0, 950.0))}
        openings = [{"id": "W1", "wall": "N1", "type": kind, "center": center} | sill]
    shop = {"line_height": 4500.0} | ({} if panels == 1 else {"line_length": 2500.0})
    data = {
        "panelgen": 1,
        "house": "Ground truth",
        "design": {"ground_snow": "30 psf", "building_width": "24 ft"},
        "assemblies": {"layers": {"layers": [*outer, framing, *inner, *straps]}},
        "unit_types": _UNITS,
        "levels": [{"id": "1", "elevation": 0, "height": height, "walls": [line]}],
        "openings": openings,
        "shop": shop,
    }
    house = design(HouseSpec.model_validate(data, context={"unit": "mm"}))
    return Wall(data, house, stock, strapped, sheathed)


def _peak(rng: np.random.Generator, length: float) -> float:
    return float(rng.choice((0.0, length / 2, length)))
