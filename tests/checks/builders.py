"""Small panels made by hand: only what a check looks at, everything else plain."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from panelgen.geometry.frames import WORLD, Frame, Vec3
from panelgen.model import (
    SQUARE,
    Barrier,
    Bore,
    Box,
    EndCut,
    Fasteners,
    House,
    Layer,
    LayerKind,
    Member,
    Notch,
    Opening,
    Panel,
    PanelKind,
    Role,
    RoundHole,
    RunPart,
    ServiceRun,
    Sheet,
    ShopLimits,
    Sleeve,
    Why,
)

WHY = Why("test", "made by hand", "test")
DEPTH = 139.7
SKIN = 11.1
CAVITY = 38.1

LAYERS = (
    Layer("outer sheathing", LayerKind.SHEATHING, "osb-7/16", DEPTH, DEPTH + SKIN, Barrier.WEATHER),
    Layer("framing", LayerKind.FRAMING, "2x6", 0.0, DEPTH),
    Layer("inner sheathing", LayerKind.SHEATHING, "osb-7/16", -SKIN, 0.0, Barrier.AIR),
    Layer("strapping", LayerKind.STRAPPING, "2x3", -SKIN - CAVITY, -SKIN),
)

UPRIGHT = ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
"""x up the panel, width through it, thickness along it: the axes of a stud."""

LEVEL = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
"""x along the panel, width through it, thickness down: the axes of a plate, whose origin is its top."""

FLAT = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
"""x along the panel, width up it, thickness toward the weather: the axes of a strap."""


def member(
    id: str = "stick",
    role: Role = Role.STUD,
    frame: Frame = WORLD,
    size: Vec3 = (2362.2, DEPTH, 38.1),
    *,
    bores: Sequence[Bore] = (),
    notches: Sequence[Notch] = (),
    start: EndCut = SQUARE,
    end: EndCut = SQUARE,
    layer: str = "framing",
    loose: bool = False,
) -> Member:
    """A stick; `size` is length, width, thickness."""
    length, width, thickness = size
    return Member(
        id, role, "2x6", "SPF", "No.2", thickness, width, length, 450.0, frame, layer, WHY, start, end,
        tuple(bores), tuple(notches), loose=loose,
    )  # fmt: skip


def stud(x: float, id: str = "", *, y: float = 38.1, role: Role = Role.STUD, **more: object) -> Member:
    """A stud whose left face is at panel x."""
    return member(id or f"stud@{x:g}", role, Frame((x, y, 0.0), *UPRIGHT), **more)


def plate(id: str, y: float, length: float, *, role: Role = Role.BOTTOM_PLATE, **more: object) -> Member:
    """A plate along the panel whose underside is at height y."""
    return member(id, role, Frame((0.0, y + 38.1, 0.0), *LEVEL), (length, DEPTH, 38.1), **more)


def strap(id: str, y: float, length: float, x: float = 0.0, **more: object) -> Member:
    """A flat strap in the service cavity."""
    frame = Frame((x, y, -SKIN - CAVITY), *FLAT)
    return member(id, Role.STRAP, frame, (length, 63.5, CAVITY), layer="strapping", **more)


def run(
    *path: Vec3,
    diameter: float = 22.2,
    id: str = "run.1",
    system: str = "cold water",
    enters: bool = False,
    leaves: bool = False,
) -> RunPart:
    """A run along a path."""
    return RunPart(id, id.partition(".")[0], system, "pipe", diameter, tuple(path), WHY, enters, leaves)


def sheet(
    id: str,
    x: float,
    y: float,
    width: float,
    height: float,
    *,
    layer: str = "inner sheathing",
    holes: Iterable[RoundHole] = (),
    cutouts: Sequence[tuple[tuple[float, float], ...]] = (),
) -> Sheet:
    """A rectangular sheet of a layer of `LAYERS`."""
    z = next(one.z0 for one in LAYERS if one.name == layer)
    outline = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return Sheet(
        id, layer, "osb-7/16", (1219.2, 2438.4), SKIN, 600.0, outline, Frame((x, y, z), *FLAT), WHY,
        tuple(cutouts), tuple(holes),
    )  # fmt: skip


def sleeve(id: str, run: str, x: float, y: float, product: str = "sleeve-1") -> Sleeve:
    """A sleeve of the catalog's 1 in. size."""
    return Sleeve(id, run, product, "gasket", x, y, 34.925, WHY)


def box(id: str, x: float, y: float, z: float, size: Vec3 = (50.0, 76.0, 38.0)) -> Box:
    """A device box whose back's upper left corner is at panel (x, y, z), opening toward the room."""
    return Box(id, "device-3x2x2-1/2", size, Frame((x, y, z), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0)), WHY)


def nails(
    points: Sequence[Vec3],
    direction: Vec3 = (0.0, 0.0, -1.0),
    *,
    length: float = 63.5,
    into: Sequence[int] = (),
    fastened: Sequence[int] = (),
    fastens_sheets: bool = True,
    id: str = "nails",
) -> Fasteners:
    """A row of nails."""
    count = len(points)
    return Fasteners(
        id, "8d common", length, 3.33, np.array(points, dtype=float).reshape(-1, 3), direction,
        np.array(fastened or [0] * count), np.array(into or [0] * count), fastens_sheets, WHY,
    )  # fmt: skip


def opening(id: str, x0: float, x1: float, y0: float, y1: float) -> Opening:
    """A rough opening for a window."""
    return Opening(id, "window", x0, x1, y0, y1, x1 - x0 - 25.4, y1 - y0 - 25.4, None, WHY)


def panel(
    members: Sequence[Member] = (),
    runs: Sequence[RunPart] = (),
    *,
    length: float = 4000.0,
    height: float = 2438.4,
    **more: object,
) -> Panel:
    """A panel of an exterior wall with the layers of `LAYERS`."""
    whole = Panel(
        "1W01", PanelKind.EXTERIOR_WALL, "1", "south", 0.0, True, WORLD, length, height,
        ((0.0, 0.0), (length, 0.0), (length, height), (0.0, height)), LAYERS, tuple(members), runs=tuple(runs),
    )  # fmt: skip
    return replace(whole, **more)


def house(*panels: Panel, runs: Sequence[ServiceRun] = (), **more: object) -> House:
    """A house of panels under the rule set irc-2021."""
    limits = ShopLimits(7315.2, 3048.0, 1360.0, 76.2)
    return House("test house", "irc-2021", limits, (), panels, tuple(runs), **more)
