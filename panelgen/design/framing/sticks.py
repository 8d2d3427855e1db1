"""Sticks by how they stand: upright, flat, on edge or sloping. One place for the frames of each."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from panelgen.catalog import Catalog
from panelgen.geometry.frames import Frame
from panelgen.model import SQUARE, EndCut, Member, Role, Why

__all__ = [
    "Stock",
    "flat",
    "on_edge",
    "on_slope",
    "plumb_board",
    "ripped_from",
    "sloping",
    "stick",
    "stock_of",
    "upright",
]

_UP = (0.0, 1.0, 0.0)
_ALONG = (1.0, 0.0, 0.0)
_OUT = (0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class Stock:
    """A stick size with its wood, resolved once a panel: mm and kg/m3. An engineered one has its kind for a grade."""

    name: str
    thickness: float
    width: float
    species: str
    grade: str
    density: float
    engineered: bool = False
    flange: float = 0.0


def stock_of(catalog: Catalog, name: str, species: str, grade: str) -> Stock:
    """Resolve a stock name and species against the catalog. Raises CatalogError if either is unknown."""
    size = catalog.stock(name)
    if size.density is not None:
        wood = ("engineered", size.kind, size.density)
        return Stock(name, size.thickness, size.width, *wood, engineered=True, flange=size.flange)
    return Stock(name, size.thickness, size.width, species, grade, catalog.species(species).density)


def ripped_from(catalog: Catalog, own: Stock, width: float) -> Stock:
    """The narrowest sawn stock as thick as `own` that is `width` mm wide or more; `own` where there is none."""
    if own.width >= width:
        return own
    wide = [
        size
        for size in catalog.lumber.values()
        if not size.is_engineered and size.thickness == own.thickness and size.width >= width
    ]
    best = min(wide, key=lambda size: (size.width, size.name), default=None)
    return own if best is None else replace(own, name=best.name, width=best.width)


def stick(
    id: str,
    role: Role,
    stock: Stock,
    length: float,
    frame: Frame,
    why: Why,
    layer: str = "framing",
    start: EndCut = SQUARE,
    end: EndCut = SQUARE,
    loose: bool = False,
) -> Member:
    """A stick of a stock in a frame of its own, `length` mm long, however it lies."""
    return Member(
        id,
        role,
        stock.name,
        stock.species,
        stock.grade,
        stock.thickness,
        stock.width,
        length,
        stock.density,
        frame,
        layer,
        why,
        start,
        end,
        loose=loose,
        engineered=stock.engineered,
        flange=stock.flange,
    )


def upright(
    id: str,
    role: Role,
    stock: Stock,
    x: float,
    y0: float,
    y1: float,
    z: float,
    why: Why,
    *,
    slope: float = 0.0,
    layer: str = "framing",
) -> Member:
    """A stud: left face at `x`, from `y0` to its long point at `y1`, wide face along z from `z`.

    `slope` is the rise per mm of x of the plane that cuts its top.
    """
    frame = Frame((x, y0, z), _UP, _OUT)
    top = SQUARE if slope == 0.0 else EndCut(across_thickness=slope)
    return stick(id, role, stock, y1 - y0, frame, why, layer, end=top)


def flat(
    id: str,
    role: Role,
    stock: Stock,
    x0: float,
    x1: float,
    top: float,
    z: float,
    why: Why,
    *,
    layer: str = "framing",
    loose: bool = False,
) -> Member:
    """A plate lying flat: x0 to x1, its top face at `top`, wide face along z from `z`."""
    frame = Frame((x0, top, z), _ALONG, _OUT)
    return stick(id, role, stock, x1 - x0, frame, why, layer, loose=loose)


def sloping(
    id: str,
    role: Role,
    stock: Stock,
    x0: float,
    x1: float,
    y0: float,
    y1: float,
    z: float,
    why: Why,
    *,
    layer: str = "framing",
    loose: bool = False,
) -> Member:
    """A plate whose top face runs from (x0, y0) to (x1, y1), plumb cut at both ends."""
    run, rise = x1 - x0, y1 - y0
    hypotenuse = math.hypot(run, rise)
    direction = (run / hypotenuse, rise / hypotenuse, 0.0)
    tangent = rise / run
    # Through the thickness (square to the slope, downward) a plumb plane falls back by `tangent` on a rise.
    cut = EndCut(across_thickness=-tangent)
    drift = abs(tangent) * stock.thickness
    # On a rise the long point at the start is on the bottom face, `drift` behind the top face's end.
    shift = -drift if tangent > 0 else 0.0
    origin = (x0 + direction[0] * shift, y0 + direction[1] * shift, z)
    return stick(id, role, stock, hypotenuse + drift, Frame(origin, direction, _OUT), why, layer, cut, cut, loose)


def on_edge(
    id: str,
    role: Role,
    stock: Stock,
    x0: float,
    x1: float,
    y: float,
    z: float,
    why: Why,
    *,
    layer: str = "framing",
) -> Member:
    """A header ply or strap: x0 to x1, wide face vertical with its lower edge at `y`, thickness from `z` outward."""
    frame = Frame((x0, y, z), _ALONG, _UP)
    return stick(id, role, stock, x1 - x0, frame, why, layer)


def on_slope(
    id: str,
    role: Role,
    stock: Stock,
    x0: float,
    x1: float,
    low: float,
    tangent: float,
    z: float,
    why: Why,
    *,
    layer: str = "framing",
) -> Member:
    """A plumb-cut board whose lower edge is at `low` at x0 and rises by `tangent` per mm, thickness from z outward.

    Its wide face is along the panel; a level one has square ends.
    """
    frame, length, cut = plumb_board(x0, x1, low, tangent, stock.width, z)
    return stick(id, role, stock, length, frame, why, layer, cut, cut)


def plumb_board(
    x0: float, x1: float, low: float, tangent: float, width: float, z: float
) -> tuple[Frame, float, EndCut]:
    """Frame, length and end cut of a board `width` wide from x0 to x1 along a slope, as `on_slope` has it."""
    if abs(tangent) < 1e-9:
        return Frame((x0, low, z), _ALONG, _UP), x1 - x0, SQUARE
    stretch = math.hypot(1.0, tangent)
    drift = abs(tangent) * width
    along = (1.0 / stretch, tangent / stretch, 0.0)
    # Plumb cuts slant in local terms; on a fall the long point at the start is on the upper edge.
    shift = drift if tangent < 0 else 0.0
    frame = Frame((x0 - along[0] * shift, low - along[1] * shift, z), along, (-along[1], along[0], 0.0))
    return frame, (x1 - x0) * stretch + drift, EndCut(across_width=tangent)
