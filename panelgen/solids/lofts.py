"""Lofts as solids without a boolean: extruded where upright, put together face by face where they lean."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from panelgen.geometry.fibres import Across
from panelgen.geometry.frames import Vec3, add, cross, scaled
from panelgen.geometry.lofts import Hole, Loft, Ring
from panelgen.solids.edges import line_edge, planar_face, solid_of, vertex, wire
from panelgen.solids.round_faces import RoundEnd, round_end, wall

__all__ = ["loft_solid"]

_UP: Vec3 = (0.0, 0.0, 1.0)
_DOWN: Vec3 = (0.0, 0.0, -1.0)


def loft_solid(loft: Loft) -> Any:
    """The solid of a loft, in its own coordinates."""
    return _extruded(loft) if loft.is_upright else _assembled(loft)


def _extruded(loft: Loft) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pln, gp_Pnt, gp_Vec

    outline, *cutouts = [_polygon(ring) for ring in loft.near]
    maker = BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(*_UP)), outline, True)
    for cutout in cutouts:
        maker.Add(cutout)
    for hole in loft.holes:
        circle = gp_Circ(gp_Ax2(gp_Pnt(*hole.near, 0.0), gp_Dir(*_DOWN)), hole.radius)
        maker.Add(BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire())
    return BRepPrimAPI_MakePrism(maker.Face(), gp_Vec(0.0, 0.0, loft.height)).Shape()


def _polygon(ring: Ring) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakePolygon
    from OCP.gp import gp_Pnt

    maker = BRepBuilderAPI_MakePolygon()
    for x, y in ring:
        maker.Add(gp_Pnt(x, y, 0.0))
    maker.Close()
    return maker.Wire()


def _assembled(loft: Loft) -> Any:
    faces: list[Any] = []
    near_wires, far_wires = [], []
    for near, far in zip(loft.near, loft.far, strict=True):
        low, high = _edge_loop(near, 0.0), _edge_loop(far, loft.height)
        faces += _sides(near, low, high)
        near_wires.append(wire(edge.Reversed() for edge in reversed(low.edges)))
        far_wires.append(wire(high.edges))
    for hole in loft.holes:
        low_end, high_end, lining = _bored(hole, loft.height)
        faces.append(lining)
        near_wires.append(low_end.forward())
        far_wires.append(high_end.backward())
    faces.append(planar_face((0.0, 0.0, 0.0), _DOWN, near_wires[0], near_wires[1:]))
    faces.append(planar_face((0.0, 0.0, loft.height), _UP, far_wires[0], far_wires[1:]))
    return solid_of(faces)


class _Loop:
    """Corners of a ring as vertices, and the edges from each to the next."""

    def __init__(self, corners: Sequence[Any]) -> None:
        self.corners = corners
        self.edges = [line_edge(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]


def _edge_loop(ring: Ring, z: float) -> _Loop:
    return _Loop([vertex((x, y, z)) for x, y in ring])


def _sides(ring: Ring, low: _Loop, high: _Loop) -> list[Any]:
    count = len(ring)
    ups = [line_edge(a, b) for a, b in zip(low.corners, high.corners, strict=True)]
    return [
        planar_face(
            (*ring[k], 0.0),
            _outward(low.corners[k], low.corners[(k + 1) % count], high.corners[k], high.corners[(k + 1) % count]),
            wire((low.edges[k], ups[(k + 1) % count], high.edges[k].Reversed(), ups[k].Reversed())),
        )
        for k in range(count)
    ]


def _outward(a: Any, b: Any, c: Any, d: Any) -> Vec3:
    """Normal of a side from its corners: diagonals of near start a, near end b, far start c, far end d."""
    from OCP.BRep import BRep_Tool

    first, second, third, fourth = ((p.X(), p.Y(), p.Z()) for p in map(BRep_Tool.Pnt_s, (a, b, c, d)))
    return cross(add(fourth, scaled(first, -1.0)), add(third, scaled(second, -1.0)))


def _bored(hole: Hole, height: float) -> tuple[RoundEnd, RoundEnd, Any]:
    """Both ends of a hole, and its lining, which looks into the hole."""
    near, far = (*hole.near, 0.0), (*hole.far, height)
    along = add(far, scaled(near, -1.0))
    size = (along[0] ** 2 + along[1] ** 2 + along[2] ** 2) ** 0.5
    axis = scaled(along, 1.0 / size)
    spoke = scaled(Across.to(axis).u, hole.radius)
    # From a point of the cylinder to both planes along the axis: the seam.
    seam_near = add(near, add(spoke, scaled(axis, -spoke[2] / axis[2])))
    seam_far = add(seam_near, along)
    low = round_end(near, _UP, axis, hole.radius, seam_near)
    high = round_end(far, _UP, axis, hole.radius, seam_far)
    return low, high, wall(low, high, axis, hole.radius).Reversed()
