"""Panels made by hand, for tests that need one without running the design.

`wall_panel` has every kind of part: plates, studs, a window with its framing, sheets with cut-outs, straps,
runs that cross studs in bores, fittings and a device box; `raked_panel` has bevel-cut studs under a sloping plate.
Sizes are dressed 2x6 lumber at 24 in. on centre, mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from panelgen.geometry.frames import WORLD, Frame, Vec3
from panelgen.model import (
    Barrier,
    Bore,
    Box,
    EndCut,
    Fitting,
    House,
    Layer,
    LayerKind,
    Member,
    Notch,
    Panel,
    PanelKind,
    Role,
    RoundHole,
    RunPart,
    Sheet,
    ShopLimits,
    Why,
)

WHY = Why("test.factory", "made by hand", "test")
THICK, WIDE = 38.1, 139.7
STRAP_THICK, STRAP_WIDE = 19.05, 63.5
OUTER, INNER = 11.1, 11.9
SPACING = 609.6
SHEET = (1219.2, 2438.4)

OUTSIDE = Layer("outer", LayerKind.SHEATHING, "OSB", WIDE, WIDE + OUTER, Barrier.WEATHER)
FRAMING = Layer("framing", LayerKind.FRAMING, "2x6", 0.0, WIDE)
INSIDE = Layer("inner", LayerKind.SHEATHING, "OSB", -INNER, 0.0, Barrier.AIR)
STRAPS = Layer("straps", LayerKind.STRAPPING, "1x3", -INNER - STRAP_THICK, -INNER)
LAYERS = (OUTSIDE, FRAMING, INSIDE, STRAPS)

UP, ALONG, INWARD, OUTWARD = (0.0, 1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 0.0, 1.0)


def stick(**changes: object) -> Member:
    """A plain stud 2438.4 mm long at the origin, with any field changed."""
    plain = Member(
        id="stud",
        role=Role.STUD,
        stock="2x6",
        species="SPF",
        grade="No.2",
        thickness=THICK,
        width=WIDE,
        length=2438.4,
        density=450.0,
        frame=WORLD,
        layer="framing",
        why=WHY,
    )
    return replace(plain, **changes)


def board(**changes: object) -> Sheet:
    """A whole sheet at the origin, with any field changed."""
    w, h = SHEET
    plain = Sheet("sheet", "outer", "OSB", SHEET, OUTER, 640.0, rectangle(0.0, w, 0.0, h), WORLD, WHY)
    return replace(plain, **changes)


def rectangle(x0: float, x1: float, y0: float, y1: float) -> tuple[tuple[float, float], ...]:
    """A counter-clockwise ring."""
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def upright(id: str, x: float, y: float, length: float, role: Role = Role.STUD, **changes: object) -> Member:
    """A stick standing at panel x (its near face), from height y up."""
    return stick(id=id, role=role, length=length, frame=Frame((x, y, 0.0), UP, OUTWARD), **changes)


def flat(id: str, x: float, y: float, length: float, role: Role, **changes: object) -> Member:
    """A plate lying from panel x with its under side at height y."""
    return stick(id=id, role=role, length=length, frame=Frame((x, y, WIDE), ALONG, INWARD), **changes)


def wall_panel(
    label: str = "1W01", length: float = 4876.8, height: float = 2743.2, window: bool = True, runs: int = 2
) -> Panel:
    """A wall with one window 1200 wide (or none) and `runs` level services through the studs."""
    pipes = [_pipe(label, k, length, 300.0 + 250.0 * k, 0.01 * (k % 2)) for k in range(runs)]
    framing = _marked(label, [_drilled(member, pipes) for member in _framing(label, length, height, window)])
    opening = rectangle(1524.0, 2724.0, 914.4, 2057.4) if window else None
    outlet = RoundHole(length - 400.0, 2000.0, 110.0, f"{label}.sleeve")
    return Panel(
        label=label,
        kind=PanelKind.EXTERIOR_WALL,
        level="1",
        wall="A",
        wall_start=0.0,
        bearing=True,
        frame=Frame((1000.0, 2000.0, 300.0), ALONG, OUTWARD),
        length=length,
        height=height,
        profile=rectangle(0.0, length, 0.0, height),
        layers=LAYERS,
        members=(*framing, *_straps(label, length, height)),
        sheets=(
            *_sheets(label, OUTSIDE, length, height, opening, outlet),
            *_sheets(label, INSIDE, length, height, opening, outlet),
        ),
        runs=(*pipes, _vent(label, length)),
        fittings=_fittings(label),
        boxes=(Box(f"{label}.box", "1-gang", (55.0, 95.0, 45.0), Frame((500.0, 400.0, -INNER), UP, ALONG), WHY),),
    )


def raked_panel(label: str = "2W07", length: float = 3657.6, low: float = 900.0, rise: float = 0.5) -> Panel:
    """A gable half: studs bevelled under a sloping plate, the plate cut plumb at both ends."""
    run = _pipe(label, 0, length, 500.0, 0.0)
    lean = math.atan(rise)
    plate_height = THICK / math.cos(lean)
    members = [flat(f"{label}.bottom", 0.0, 0.0, length, Role.BOTTOM_PLATE)]
    for k, x in enumerate(_layout(length)):
        top = low + rise * (x + THICK) - plate_height
        # The stud's thickness runs along the panel, so its top leans `rise` per mm of thickness.
        members.append(upright(f"{label}.s{k:02d}", x, THICK, top - THICK, end=EndCut(0.0, rise)))
    along = (math.cos(lean), math.sin(lean), 0.0)
    plumb = EndCut(0.0, math.tan(lean))
    slope = length / math.cos(lean) + THICK * math.tan(lean)
    corner = (0.0, low - plate_height, WIDE)
    members.append(
        stick(
            id=f"{label}.top",
            role=Role.TOP_PLATE,
            length=slope,
            frame=Frame(corner, along, INWARD),
            start=plumb,
            end=plumb,
        )
    )
    sheet = board(
        id=f"{label}.o0",
        outline=((0.0, 0.0), (length, 0.0), (length, low + rise * length), (0.0, low)),
        frame=Frame((0.0, 0.0, OUTSIDE.z0), ALONG, UP),
    )
    return Panel(
        label=label,
        kind=PanelKind.EXTERIOR_WALL,
        level="2",
        wall="G",
        wall_start=0.0,
        bearing=False,
        frame=Frame((0.0, 0.0, 2800.0), UP, OUTWARD),
        length=length,
        height=low + rise * length,
        profile=sheet.outline,
        layers=(OUTSIDE, FRAMING),
        members=_marked(label, [_drilled(member, [run]) for member in members]),
        sheets=(replace(sheet, mark=f"{label}-S1"),),
        runs=(run,),
    )


def small_house(panels: int = 3, **panel: object) -> House:
    """Wall panels side by side, no two of the same length; with `panel` passed on to `wall_panel`."""
    made = []
    for k in range(panels):
        length = 3600.0 + 25.4 * k
        one = wall_panel(label=f"1W{k + 1:02d}", length=length, window=k % 3 != 2, **panel)
        made.append(replace(one, frame=Frame((0.0, 400.0 * k, 0.0), ALONG, OUTWARD)))
    return House("Made by hand", "irc-2021", ShopLimits(7315.2, 3048.0, 1360.0, 76.2), (), tuple(made))


def _layout(length: float) -> list[float]:
    inner = [k * SPACING - THICK / 2 for k in range(1, math.ceil((length - THICK) / SPACING))]
    return [0.0, *(x for x in inner if x < length - 2 * THICK), length - THICK]


def _framing(label: str, length: float, height: float, window: bool) -> list[Member]:
    """Plates and studs, and around a window kings, jacks, header, sill and cripples."""
    top = height - 2 * THICK
    parts = [
        flat(f"{label}.bottom", 0.0, 0.0, length, Role.BOTTOM_PLATE),
        flat(f"{label}.top", 0.0, top, length, Role.TOP_PLATE),
        flat(f"{label}.cap", 0.0, top + THICK, length, Role.CAP_PLATE),
    ]
    x0, x1, y0, y1, deep = 1524.0, 2724.0, 914.4, 2057.4, 235.0
    for k, x in enumerate(_layout(length)):
        if not window or x + THICK <= x0 - 2 * THICK or x >= x1 + 2 * THICK:
            parts.append(upright(f"{label}.s{k:02d}", x, THICK, top - THICK))
        elif x0 < x < x1 - THICK:
            parts.append(upright(f"{label}.c{k:02d}", x, THICK, y0 - 2 * THICK, Role.CRIPPLE))
    if window:
        ply = Frame((x0 - THICK, y1, 0.0), ALONG, UP)
        for k, z in enumerate((0.0, WIDE - THICK)):
            frame = replace(ply, origin=(x0 - THICK, y1, z))
            header = stick(id=f"{label}.h{k}", role=Role.HEADER, width=deep, length=x1 - x0 + 2 * THICK, frame=frame)
            parts.append(header)
        parts.append(flat(f"{label}.sill", x0, y0 - THICK, x1 - x0, Role.SILL))
        for side, (king, jack) in {"l": (x0 - 2 * THICK, x0 - THICK), "r": (x1 + THICK, x1)}.items():
            parts.append(upright(f"{label}.k{side}", king, THICK, top - THICK, Role.KING))
            parts.append(upright(f"{label}.j{side}", jack, THICK, y1 - THICK, Role.JACK))
    first = next(k for k, part in enumerate(parts) if part.role is Role.STUD)
    parts[first] = replace(parts[first], notches=(Notch(1000.0, 1090.0, 19.0),))
    return parts


def _drilled(member: Member, pipes: Iterable[RunPart]) -> Member:
    """A stud with a bore, 10 mm larger than the pipe, where each pipe crosses it."""
    bores = []
    for pipe in pipes:
        a, b = member.frame.to_local(pipe.path)
        along = tuple((b - a) / math.dist(a, b))
        at = a + (b - a) * ((member.thickness / 2 - a[2]) / (b[2] - a[2])) if abs(along[2]) > 0.5 else None
        if at is not None and 0.0 < at[0] < member.length and 0.0 < at[1] < member.width:
            bores.append(Bore(tuple(map(float, at)), pipe.diameter + 10.0, _vector(along), pipe.id))
    return replace(member, bores=tuple(bores))


def _vector(values: Iterable[float]) -> Vec3:
    x, y, z = map(float, values)
    return (x, y, z)


def _pipe(label: str, number: int, length: float, height: float, fall: float) -> RunPart:
    ends = ((-100.0, height, 60.0), (length + 100.0, height + fall * (length + 200.0), 60.0))
    return RunPart(f"{label}.r{number}", f"r{number}", "drain", "pipe", 28.6 + number, ends, WHY, True, True)


def _vent(label: str, length: float) -> RunPart:
    """A bent run inside the last bay, out through both sheets."""
    x = length - 400.0
    path = ((x, 200.0, 90.0), (x, 1700.0, 90.0), (x + 60.0, 2000.0, 90.0), (x, 2000.0, 90.0), (x, 2000.0, 400.0))
    return RunPart(f"{label}.vent", "vent", "vent", "pipe", 40.0, path, WHY, False, True)


def _fittings(label: str) -> tuple[Fitting, ...]:
    """A coupling on the first pipe, and an elbow and a tee beside it."""
    at, up = (1100.0, 300.0, 60.0), (0.0, 1.0, 0.0)
    coupling = Fitting(f"{label}.f0", "r0", "coupling", "coupling", at, ALONG, 36.0, 50.0, WHY)
    elbow = Fitting(f"{label}.f1", "r0", "elbow", "elbow", (900.0, 700.0, 60.0), ALONG, 36.0, 90.0, WHY, up, 90.0)
    tee = Fitting(f"{label}.f2", "r0", "tee", "tee", (900.0, 1000.0, 60.0), ALONG, 36.0, 90.0, WHY, up)
    return (coupling, elbow, tee)


def _straps(label: str, length: float, height: float) -> list[Member]:
    rows = range(max(2, round(height / SPACING)))
    return [
        stick(
            id=f"{label}.t{k}",
            role=Role.STRAP,
            layer="straps",
            thickness=STRAP_THICK,
            width=STRAP_WIDE,
            length=length,
            frame=Frame((0.0, k * SPACING, STRAPS.z0), ALONG, UP),
        )
        for k in rows
    ]


def _sheets(
    label: str,
    layer: Layer,
    length: float,
    height: float,
    opening: tuple[tuple[float, float], ...] | None,
    outlet: RoundHole,
) -> list[Sheet]:
    """Sheets 1219 mm wide over the panel, each in coordinates of its own lower left corner."""
    made = []
    for k in range(math.ceil(length / SHEET[0])):
        x0, x1 = k * SHEET[0], min(length, (k + 1) * SHEET[0])
        cuts = ()
        if opening:
            (a, low), (b, _), (_, high), _ = opening
            left, right = max(a, x0) - x0, min(b, x1) - x0
            cuts = (rectangle(left, right, low, high),) if left < right else ()
        inside = x0 + outlet.diameter < outlet.x < x1 - outlet.diameter
        holes = (replace(outlet, x=outlet.x - x0),) if inside else ()
        number = f"{layer.name[0].upper()}{k + 1}"
        made.append(
            board(
                id=f"{label}.{layer.name}{k}",
                mark=f"{label}-{number}",
                layer=layer.name,
                thickness=layer.thickness,
                outline=rectangle(0.0, x1 - x0, 0.0, height),
                frame=Frame((x0, 0.0, layer.z0), ALONG, UP),
                cutouts=cuts,
                round_holes=holes,
            )
        )
    return made


def _marked(label: str, members: Iterable[Member]) -> tuple[Member, ...]:
    return tuple(replace(member, mark=f"{label}-{k + 1:02d}") for k, member in enumerate(members))
