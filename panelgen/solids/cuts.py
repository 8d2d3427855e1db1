"""What only a boolean can cut: bores that break out of a side, lean or meet, and ends that run into them."""

from __future__ import annotations

import math
from typing import Any

from panelgen.errors import GeometryError
from panelgen.geometry.fibres import Across
from panelgen.geometry.frames import Vec3, add, dot, scaled
from panelgen.geometry.lofts import Body, Cylinder, HalfSpace
from panelgen.solids.edges import direction, line_edge, planar_face, point, solids_in, vertex, wire
from panelgen.solids.lofts import loft_solid
from panelgen.solids.verdicts import all_valid, volume_of

__all__ = ["body_solids"]

_ATTEMPTS = (
    (0.0, 0.0),
    (2.4, 0.0),
    (4.8, 0.0),
    (0.0, 1e-5),
    (0.0, -1e-5),
    (0.9, 0.0),
    (3.3, 0.0),
    (5.7, 0.0),
    (1.6, 3e-5),
    (1.6, -3e-5),
)
"""How the drills are held: their seam turned (radians), their radius changed (mm)."""

_CLOSE = 1e-6
_USABLE = 1e-4
_DUST = 1e-3  # mm3


def body_solids(body: Body, volume: float) -> list[Any]:
    """The solids of a body: one, or one a piece where cuts part it. Cut bodies are proven.

    The kernel can fail where a bore just touches an edge, and finds curves between skew bores more or
    less closely depending on where their seams lie. So the result must be valid and within a millionth
    of `volume` (mm3), or the bores are tried again, turned or some 1e-5 mm larger or smaller. If no
    attempt is that close, the closest is taken. Raises GeometryError if it is off by more than 1e-4.
    """
    lofts = [loft_solid(loft) for loft in body.lofts]
    if body.is_plain:
        return lofts
    if volume <= _DUST:
        raise GeometryError("its bores and cuts leave nothing of it")
    reach = _reach(body)
    best, error = lofts, _USABLE * volume
    for turn, growth in _ATTEMPTS:
        pieces = _cut(lofts, body, reach, turn, growth)
        off = abs(sum(map(volume_of, pieces)) - volume)
        if off < error and all_valid(pieces):
            best, error = pieces, off
        if error <= _CLOSE * volume:
            break
    if best is lofts:
        raise GeometryError(f"the kernel cannot cut {sum(map(len, body.bores))} bores from a stick {reach:.0f} mm long")
    return best


def _reach(body: Body) -> float:
    """A length that no point of the body exceeds from the origin."""
    return max(
        sum((abs(x), abs(y), loft.height)) for loft in body.lofts for ring in (*loft.near, *loft.far) for x, y in ring
    )


def _cut(lofts: list[Any], body: Body, reach: float, turn: float, growth: float) -> list[Any]:
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
    from OCP.TopTools import TopTools_ListOfShape

    arguments, tools = TopTools_ListOfShape(), TopTools_ListOfShape()
    for loft in lofts:
        arguments.Append(loft)
    for bore in (bore for group in body.bores for bore in group):
        tools.Append(_drill(bore, reach, turn, growth))
    for trim in body.trims:
        tools.Append(_beyond(trim, reach))
    operation = BRepAlgoAPI_Cut()
    operation.SetArguments(arguments)
    operation.SetTools(tools)
    operation.Build()
    return solids_in(operation.Shape()) if operation.IsDone() else []


def _drill(bore: Cylinder, reach: float, turn: float, growth: float) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
    from OCP.gp import gp_Ax2

    across = Across.to(bore.axis)
    seam = add(scaled(across.u, math.cos(turn)), scaled(across.v, math.sin(turn)))
    foot = add(bore.point, scaled(bore.axis, -dot(bore.point, bore.axis) - 2 * reach))
    place = gp_Ax2(point(foot), direction(bore.axis), direction(seam))
    return BRepPrimAPI_MakeCylinder(place, bore.radius + growth, 4 * reach).Shape()


def _beyond(space: HalfSpace, reach: float) -> Any:
    """A block that fills the other side of a plane as far as the body can reach."""
    size = dot(space.normal, space.normal) ** 0.5
    normal = scaled(space.normal, 1.0 / size)
    across = Across.to(normal)
    foot = scaled(normal, space.offset / size)
    return _block(foot, across, normal, 3 * reach)


def _block(foot: Vec3, across: Across, normal: Vec3, half: float) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    signs = ((-half, -half), (half, -half), (half, half), (-half, half))
    corners = [vertex(add(foot, add(scaled(across.u, a), scaled(across.v, b)))) for a, b in signs]
    sides = [line_edge(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]
    return BRepPrimAPI_MakePrism(planar_face(foot, normal, wire(sides)), gp_Vec(*scaled(normal, half))).Shape()
