"""Holes and notches that the rules forbid, and sticks and sheets that take one another's place."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from panelgen.checks.holes.roles import is_bearing
from panelgen.model import Bore, HardwareKind, House, Member, Notch, Role
from tests.checks.faults.in_wood import level, picked, with_run
from tests.checks.faults.places import run_spec, upright_run
from tests.checks.faults.registry import Case, changed, fault
from tests.checks.faults.walls import Wall

_UPRIGHT = (Role.STUD, Role.KING, Role.JACK)


def _stick(rng: np.random.Generator, house: House, *roles: Role, least: float = 800.0) -> Member | None:
    """A stick of one of these roles, at least so long, mm."""
    sticks = [one for one in house.panels[0].members if one.role in roles and one.length > least]
    return sticks[int(rng.integers(0, len(sticks)))] if sticks else None


def _with(house: House, stick: Member, other: Member) -> House:
    return changed(house, members=tuple(other if one is stick else one for one in house.panels[0].members))


@fault("hole beside a notch")
def hole_beside_notch(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A shallow notch in the section of a hole, sharing 0.1 mm of its length or more."""
    size = picked(rng)
    place = level(rng, wall, size)
    if place is None:
        return None
    house = with_run(wall, place.spec("run", size))
    bored = [one for one in house.panels[0].members if one.bores]
    stick = bored[int(rng.integers(0, len(bored)))]
    (bore,) = stick.bores
    x0 = bore.point[0] + bore.diameter / 2 - float(rng.choice((0.1, rng.uniform(0.1, bore.diameter))))
    notch = Notch(x0, x0 + 40.0, float(rng.uniform(3.0, 10.0)), bool(rng.random() < 0.5))
    return Case(_with(house, stick, replace(stick, notches=(notch,))), "bore.notch", stick.id)


@fault("notch too deep")
def notch_too_deep(rng: np.random.Generator, wall: Wall) -> Case | None:
    """More than a quarter of a bearing stud, or two fifths of another (IRC R602.6), by 0.1 mm and more."""
    stick = _stick(rng, wall.house, *_UPRIGHT)
    if stick is None:
        return None
    share = 0.25 if is_bearing(wall.house.panels[0]) else 0.4
    depth = share * stick.width + float(rng.choice((0.1, rng.uniform(0.2, 20.0))))
    x0 = float(rng.uniform(100.0, stick.length - 300.0))
    notch = Notch(x0, x0 + 50.0, depth, bool(rng.random() < 0.5))
    return Case(_with(wall.house, stick, replace(stick, notches=(notch,))), "notch.depth", stick.id)


@fault("hole breaks the end")
def hole_breaks_end(rng: np.random.Generator, wall: Wall) -> Case | None:
    stick = _stick(rng, wall.house, Role.STUD, Role.KING)
    if stick is None:
        return None
    radius = float(rng.uniform(6.0, 15.0))
    near = radius - float(rng.choice((0.1, rng.uniform(0.2, radius))))
    bore = Bore((near, stick.width / 2, 0.0), 2 * radius)
    return Case(_with(wall.house, stick, replace(stick, bores=(bore,))), "bore.end", stick.id)


@fault("hole through the edge of a stud")
def hole_through_edge(rng: np.random.Generator, wall: Wall) -> Case | None:
    stick = _stick(rng, wall.house, *_UPRIGHT)
    if stick is None:
        return None
    bore = Bore((float(rng.uniform(200.0, 600.0)), 0.0, stick.thickness / 2), 15.0, (0.0, 1.0, 0.0))
    return Case(_with(wall.house, stick, replace(stick, bores=(bore,))), "bore.face", stick.id)


@fault("hole in a header")
def hole_in_header(rng: np.random.Generator, wall: Wall) -> Case | None:
    stick = _stick(rng, wall.house, Role.HEADER, least=300.0)
    if stick is None:
        return None
    place = (float(rng.uniform(0.3, 0.7)) * stick.length, stick.width / 2, 0.0)
    return Case(_with(wall.house, stick, replace(stick, bores=(Bore(place, 16.0),))), "bore.unruled", stick.id)


@fault("holes run into each other")
def holes_overlap(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Beside each other along the stud, so that together they take no more of its width."""
    stick = _stick(rng, wall.house, Role.STUD)
    if stick is None:
        return None
    x, diameter = float(rng.uniform(200.0, 600.0)), float(rng.uniform(10.0, 25.0))
    apart = diameter - float(rng.choice((0.1, rng.uniform(0.2, diameter))))
    bores = tuple(Bore((at, stick.width / 2, 0.0), diameter, run=run) for at, run in ((x, "a"), (x + apart, "b")))
    return Case(_with(wall.house, stick, replace(stick, bores=bores)), "bore.overlap", stick.id)


@fault("top plate cut without a tie")
def plate_without_tie(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A 3 in. pipe up through the top plates; the ties that the design adds are left out."""
    if wall.stock != "2x6" or "gable" in wall.data["levels"][0]["walls"][0]:
        return None
    place = upright_run(rng, wall, 100.0)
    if place is None:
        return None
    x = sum(place.gap) / 2
    if any(x0 - 70.0 < x < x1 + 70.0 for x0, x1, _, y1 in wall.uprights if y1 > wall.low_top - 150.0):
        return None
    if any(one[0] - 100.0 < x < one[1] + 100.0 for one in wall.rough_openings):
        return None
    path = [[x, wall.low_top - 200.0, wall.depth / 2], [x, wall.low_top + 1.0, wall.depth / 2]]
    house = with_run(wall, run_spec("bad", "pvc-3", path, system="vent"))
    rest = tuple(one for one in house.panels[0].hardware if one.kind is not HardwareKind.TIE)
    return Case(changed(house, hardware=rest), "bore.plate", "bad")


@fault("sticks overlap")
def sticks_overlap(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A second stud beside one, 0.1 mm and more inside it."""
    stick = _stick(rng, wall.house, Role.STUD)
    if stick is None:
        return None
    x, y, z = stick.frame.origin
    into = float(rng.choice((0.1, rng.uniform(0.2, 38.0))))
    frame = replace(stick.frame, origin=(x + stick.thickness - into, y, z))
    twin = replace(stick, id="twin", frame=frame)
    return Case(changed(wall.house, members=(*wall.house.panels[0].members, twin)), "member.member", "twin")


@fault("stick out of its layer")
def stick_outside(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A stud moved through the wall by 0.1 mm and more."""
    stick = _stick(rng, wall.house, Role.STUD)
    if stick is None:
        return None
    x, y, z = stick.frame.origin
    out = float(rng.choice((0.1, rng.uniform(0.2, 30.0))) * rng.choice((-1.0, 1.0)))
    moved = replace(stick, frame=replace(stick.frame, origin=(x, y, z + out)))
    return Case(_with(wall.house, stick, moved), "part.outside", stick.id)


@fault("sheets overlap")
def sheets_overlap(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A sheet moved toward its neighbour: the gap of 3.2 mm and 0.1 mm more."""
    panel = wall.panel
    pairs = [
        (one, other)
        for one in panel.sheets
        for other in panel.sheets
        if one.layer == other.layer and abs(other.frame.origin[0] - _right(one) - 3.175) < 0.01
        and abs(other.frame.origin[1] - one.frame.origin[1]) < 0.01
    ]  # fmt: skip
    if not pairs:
        return None
    _, moved = pairs[int(rng.integers(0, len(pairs)))]
    x, y, z = moved.frame.origin
    over = 3.175 + float(rng.choice((0.1, rng.uniform(0.2, 50.0))))
    other = replace(moved, frame=replace(moved.frame, origin=(x - over, y, z)))
    sheets = tuple(other if one is moved else one for one in panel.sheets)
    return Case(changed(wall.house, sheets=sheets), "sheet.sheet", moved.id)


def _right(sheet: object) -> float:
    return sheet.frame.origin[0] + max(x for x, _ in sheet.outline)
