"""Small steps into the kernel: points, directions, wires, shells. The kernel is imported where it is used."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from panelgen.geometry.frames import Vec3

__all__ = ["compound", "direction", "line_edge", "planar_face", "point", "solid_of", "solids_in", "vertex", "wire"]


def point(at: Vec3) -> Any:
    """A kernel point."""
    from OCP.gp import gp_Pnt

    return gp_Pnt(*at)


def direction(along: Vec3) -> Any:
    """A kernel direction of unit length."""
    from OCP.gp import gp_Dir

    return gp_Dir(*along)


def vertex(at: Vec3) -> Any:
    """A vertex to be shared by the edges that meet there."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex

    return BRepBuilderAPI_MakeVertex(point(at)).Vertex()


def line_edge(start: Any, end: Any) -> Any:
    """A straight edge between two vertices."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge

    return BRepBuilderAPI_MakeEdge(start, end).Edge()


def wire(edges: Iterable[Any]) -> Any:
    """A closed wire of edges given in order, each already turned the way it is walked."""
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Wire

    builder, result = BRep_Builder(), TopoDS_Wire()
    builder.MakeWire(result)
    for edge in edges:
        builder.Add(result, edge)
    result.Closed(True)
    return result


def planar_face(on: Vec3, normal: Vec3, outline: Any, holes: Iterable[Any] = ()) -> Any:
    """A flat face: its outline runs counter-clockwise seen against `normal`, its holes clockwise."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.gp import gp_Pln

    maker = BRepBuilderAPI_MakeFace(gp_Pln(point(on), direction(normal)), outline, True)
    for hole in holes:
        maker.Add(hole)
    return maker.Face()


def solid_of(faces: Iterable[Any]) -> Any:
    """The solid inside a closed shell of faces that share their edges and look outward."""
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Shell, TopoDS_Solid

    builder, shell, solid = BRep_Builder(), TopoDS_Shell(), TopoDS_Solid()
    builder.MakeShell(shell)
    for face in faces:
        builder.Add(shell, face)
    shell.Closed(True)
    builder.MakeSolid(solid)
    builder.Add(solid, shell)
    return solid


def compound(shapes: Iterable[Any]) -> Any:
    """Shapes held together without a boolean."""
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Compound

    builder, result = BRep_Builder(), TopoDS_Compound()
    builder.MakeCompound(result)
    for shape in shapes:
        builder.Add(result, shape)
    return result


def solids_in(shape: Any) -> list[Any]:
    """The solids of a shape, in its own order."""
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    found, explorer = [], TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_SOLID)
    while explorer.More():
        found.append(TopoDS.Solid_s(explorer.Current()))
        explorer.Next()
    return found
