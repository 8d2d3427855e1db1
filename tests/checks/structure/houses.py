"""Designed houses for the structural checks, and floors of hand-made joists over hand-made walls."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from panelgen.checks import check_house
from panelgen.design.house import design
from panelgen.geometry.frames import WORLD, Frame
from panelgen.model import DesignLoads, Finding, House, Member, Panel, PanelKind, Role, Storey
from panelgen.spec import HouseSpec
from tests.checks.builders import house, panel, plate
from tests.checks.looking import CATALOG
from tests.design.houses import house_data

FOOT, INCH = 304.8, 25.4
LOADS = DesignLoads(1.4364, 7315.2)
FAMILIES = ("stud", "header", "joist", "load", "opening")
WIDTH = 139.7

Change = Callable[[Member], Member | None]


def storeys(
    count: int, openings: Sequence[Sequence[dict[str, Any]]] = (), wall: dict[str, Any] | None = None, **more: Any
) -> House:
    """One exterior bearing wall 24 ft long on each of `count` levels; openings by level, lowest first."""
    levels = []
    rows = []
    for n in range(count):
        name = f"N{n + 1}"
        line = {"wall": name, "assembly": "exterior", "start": [0, 0], "end": ["24 ft", 0], "exterior": True}
        line |= {"along": "outer face"} | (wall or {})
        levels.append({"id": str(n + 1), "elevation": n * 2786.0, "height": "97-1/8 in", "walls": [line]})
        for k, row in enumerate(openings[n] if n < len(openings) else ()):
            rows.append({"id": f"O{n + 1}{k + 1}", "wall": name, "sill": "31-1/2 in"} | row)
    data = house_data(levels, openings=rows, **more)
    return design(HouseSpec.model_validate(data, context={"unit": "mm"}))


def found(house: House) -> list[Finding]:
    """The structural findings of a house."""
    return [one for one in check_house(house, CATALOG) if one.code.partition(".")[0] in FAMILIES]


def codes(house: House) -> list[str]:
    """Their codes."""
    return [one.code for one in found(house)]


def changed(house: House, change: Change) -> House:
    """The house with every stick changed, or left out where `change` gives None."""
    panels = tuple(
        replace(one, members=tuple(new for old in one.members if (new := change(old)) is not None))
        for one in house.panels
    )
    return replace(house, panels=panels)


def without(house: House, *ids: str) -> House:
    """The house without some sticks, which must be there."""
    known = {member.id for one in house.panels for member in one.members}
    assert known.issuperset(ids)
    return changed(house, lambda member: None if member.id in ids else member)


def wall_at(label: str, y: float, length: float, *, bearing: bool = True) -> Panel:
    """A wall 8 ft high along x, its weather face at plan y."""
    frame = Frame((length, y - WIDTH, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    top = 8 * FOOT
    members = (plate(f"{label}.top", top - 38.1, length, role=Role.TOP_PLATE),)
    whole = panel(members, length=length, height=top)
    return replace(whole, label=label, wall=label, frame=frame, bearing=bearing)


def joist(
    id: str, x: float, length: float, *, stock: str = "2x10", start: float = 0.0, role: Role = Role.JOIST
) -> Member:
    """A joist on edge along panel y, its underside at z = 0."""
    size = CATALOG.stock(stock)
    frame = Frame((x, start, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    return Member(
        id, role, stock, "SPF", "No.2", size.thickness, size.width, length, 450.0, frame, "framing", LAYERS_WHY
    )


LAYERS_WHY = panel((plate("p", 0.0, 100.0),)).members[0].why


def floor(members: Sequence[Member], length: float, width: float, kind: PanelKind = PanelKind.FLOOR) -> Panel:
    """A floor panel on walls 8 ft high: its x along the house's x, its y along the house's y."""
    whole = panel(members, length=length, height=width)
    frame = Frame((0.0, 0.0, 8 * FOOT), WORLD.x, WORLD.y)
    return replace(whole, label="2F01", kind=kind, frame=frame, level="1", bearing=False)


def floor_house(members: Sequence[Member], apart: float, kind: PanelKind = PanelKind.FLOOR) -> House:
    """A floor over two walls whose weather faces are `apart` mm from each other."""
    walls = (wall_at("1W01", WIDTH, 4000.0), wall_at("1W02", apart, 4000.0))
    whole = house(*walls, floor(members, 4000.0, apart, kind))
    return replace(whole, loads=LOADS, storeys=(Storey("1", 0.0, True),))
