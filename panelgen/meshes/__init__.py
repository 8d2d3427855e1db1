"""Parts as closed triangle meshes, made from their outlines with numpy and shapely."""

from panelgen.meshes.bodies import Tessellate
from panelgen.meshes.mesh import Mesh, PartMesh, to_trimesh
from panelgen.meshes.panel import MeshStore, panel_meshes, truss_meshes

__all__ = ["Mesh", "MeshStore", "PartMesh", "Tessellate", "panel_meshes", "to_trimesh", "truss_meshes"]
