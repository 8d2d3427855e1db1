"""Kernel shapes as closed triangle meshes, for the few that cannot be meshed from their outlines."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from panelgen.geometry.frames import Floats
from panelgen.geometry.lofts import Body
from panelgen.solids.cuts import body_solids

__all__ = ["tessellated"]

_SAGITTA = 0.25
_TURN = 0.35  # radians between the normals of neighbouring triangles
_SAME_DECIMALS = 6


def tessellated(body: Body, volume: float) -> tuple[Floats, NDArray[np.int32]]:
    """(n, 3) vertices, mm, and (m, 3) faces of a body of known `volume`, mm3, closed and seen from outside.

    The kernel meshes each face apart but along common edges; points that coincide are made one.
    Raises GeometryError if the kernel cannot make the body.
    """
    from OCP.BRepMesh import BRepMesh_IncrementalMesh

    points: list[tuple[float, float, float]] = []
    triangles: list[tuple[int, int, int]] = []
    for solid in body_solids(body, volume):
        BRepMesh_IncrementalMesh(solid, _SAGITTA, False, _TURN, False)
        for face in _faces(solid):
            _add_face(face, points, triangles)
    rounded = np.round(np.array(points), _SAME_DECIMALS) + 0.0
    vertices, index = np.unique(rounded, axis=0, return_inverse=True)
    faces = index.reshape(-1)[np.array(triangles)].astype(np.int32)
    a, b, c = faces.T
    return vertices, faces[(a != b) & (b != c) & (c != a)]


def _faces(solid: Any) -> list[Any]:
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    found, explorer = [], TopExp_Explorer(solid, TopAbs_ShapeEnum.TopAbs_FACE)
    while explorer.More():
        found.append(TopoDS.Face_s(explorer.Current()))
        explorer.Next()
    return found


def _add_face(face: Any, points: list[tuple[float, float, float]], triangles: list[tuple[int, int, int]]) -> None:
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_Orientation
    from OCP.TopLoc import TopLoc_Location

    place = TopLoc_Location()
    mesh = BRep_Tool.Triangulation_s(face, place)
    move = place.Transformation()
    before = len(points) - 1
    for k in range(1, mesh.NbNodes() + 1):
        node = mesh.Node(k).Transformed(move)
        points.append((node.X(), node.Y(), node.Z()))
    inward = face.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
    for k in range(1, mesh.NbTriangles() + 1):
        a, b, c = mesh.Triangle(k).Get()
        triangles.append((before + a, before + c, before + b) if inward else (before + a, before + b, before + c))
