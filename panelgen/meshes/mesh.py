"""Triangle meshes as two arrays, and the mesh of one part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from panelgen.geometry.frames import Floats, Frame
from panelgen.model.groups import PartGroup

__all__ = ["Indices", "Mesh", "PartMesh", "joined", "to_trimesh"]

Indices = NDArray[np.int32]


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """`vertices` (n, 3) float, mm; `faces` (m, 3) int32, counter-clockwise seen from outside.

    Closed: each edge of a face is an edge of exactly one other face, walked the other way.
    """

    vertices: Floats
    faces: Indices

    @property
    def volume(self) -> float:
        """Enclosed volume, mm3, by the divergence theorem."""
        a, b, c = np.moveaxis(self.vertices[self.faces] - self.vertices[0], 1, 0)
        return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)

    def placed(self, frame: Frame) -> Mesh:
        """The mesh in the coordinates of the frame's parent."""
        return Mesh(frame.to_parent(self.vertices), self.faces)


@dataclass(frozen=True, slots=True, eq=False)
class PartMesh:
    """The closed mesh of one part."""

    part: str
    mark: str
    group: PartGroup
    mesh: Mesh

    @property
    def name(self) -> str:
        """The printed mark, or the id of a part that has none."""
        return self.mark or self.part


def joined(meshes: Sequence[Mesh]) -> Mesh:
    """Several closed meshes as one; they stay apart."""
    if len(meshes) == 1:
        return meshes[0]
    starts = np.cumsum([0, *(len(mesh.vertices) for mesh in meshes[:-1])])
    faces = [mesh.faces + np.int32(start) for mesh, start in zip(meshes, starts, strict=True)]
    return Mesh(np.concatenate([mesh.vertices for mesh in meshes]), np.concatenate(faces))


def to_trimesh(mesh: Mesh) -> Any:
    """The mesh as a trimesh object, vertices and faces as they are."""
    import trimesh

    return trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
