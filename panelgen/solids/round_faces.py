"""Cylindrical walls between two planes: the walls of bores and of mitred tubes.

Where a plane is square to the axis the wall ends in one circle, else in an ellipse. The kernel
approximates an ellipse on a cylinder arc by arc, the worse the more it leans: at 45 degrees the volume
it finds is good to 1e-6 with one arc, to 1e-8 with four. A drain's slope needs no more than one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from panelgen.geometry.frames import Vec3, add, cross, dot, scaled
from panelgen.solids.edges import direction, line_edge, point, vertex, wire

__all__ = ["RoundEnd", "round_end", "wall"]

_ARCS = 4
_GENTLE = 0.05
_SQUARE = 1e-9


@dataclass(frozen=True, slots=True)
class RoundEnd:
    """Where a cylinder about `centre` ends on a plane: the edges around it, from the vertex `seam`."""

    centre: Vec3
    at: Vec3
    seam: Any
    edges: tuple[Any, ...]

    def forward(self) -> Any:
        """The closed wire counter-clockwise about the plane's normal."""
        return wire(self.edges)

    def backward(self) -> Any:
        """The closed wire the other way round."""
        return wire(edge.Reversed() for edge in reversed(self.edges))


def round_end(centre: Vec3, normal: Vec3, axis: Vec3, radius: float, seam: Vec3) -> RoundEnd:
    """The end of a cylinder along `axis` on a plane through `centre`; `seam` is a point on that outline."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge
    from OCP.Geom import Geom_Circle, Geom_Ellipse
    from OCP.gp import gp_Ax2

    start = vertex(seam)
    spoke = add(seam, scaled(centre, -1.0))
    lean = dot(normal, axis)
    bend = add(axis, scaled(normal, -lean))
    size = math.sqrt(dot(bend, bend))
    if size < _SQUARE:
        circle = Geom_Circle(gp_Ax2(point(centre), direction(normal), direction(spoke)), radius)
        return RoundEnd(centre, seam, start, (BRepBuilderAPI_MakeEdge(circle, start, start).Edge(),))
    longest = scaled(bend, 1.0 / size)
    major = radius / lean
    first = math.atan2(dot(spoke, cross(normal, longest)) / radius, dot(spoke, longest) / major)
    ellipse = Geom_Ellipse(gp_Ax2(point(centre), direction(normal), direction(longest)), major, radius)
    arcs = 1 if size < _GENTLE else _ARCS
    stops = [first + 2 * math.pi * k / arcs for k in range(arcs + 1)]
    inner = [vertex(_coordinates(ellipse.Value(stop))) for stop in stops[1:-1]]
    corners = [start, *inner, start]
    edges = tuple(
        BRepBuilderAPI_MakeEdge(ellipse, corners[k], corners[k + 1], stops[k], stops[k + 1]).Edge() for k in range(arcs)
    )
    return RoundEnd(centre, seam, start, edges)


def wall(low: RoundEnd, high: RoundEnd, axis: Vec3, radius: float) -> Any:
    """The face between two ends whose seams lie on one line along `axis`, looking away from the axis."""
    from OCP.BRep import BRep_Builder
    from OCP.Geom import Geom_CylindricalSurface
    from OCP.gp import gp_Ax3
    from OCP.ShapeFix import ShapeFix_Face
    from OCP.TopoDS import TopoDS_Face

    spoke = add(low.at, scaled(low.centre, -1.0))
    spoke = add(spoke, scaled(axis, -dot(spoke, axis)))
    surface = Geom_CylindricalSurface(gp_Ax3(point(low.centre), direction(axis), direction(spoke)), radius)
    line = line_edge(low.seam, high.seam)
    builder, bare = BRep_Builder(), TopoDS_Face()
    builder.MakeFace(bare, surface, 1e-7)
    around = (edge.Reversed() for edge in reversed(high.edges))
    builder.Add(bare, wire((*low.edges, line, *around, line.Reversed())))
    fixer = ShapeFix_Face(bare)  # draws the edges in the surface's parameters
    fixer.Perform()
    return fixer.Face()


def _coordinates(at: Any) -> Vec3:
    return (at.X(), at.Y(), at.Z())
