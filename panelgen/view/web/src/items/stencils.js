// Twins of a closed solid that count, in the stencil, where the section plane is inside it.

import { InstancedMesh, Mesh } from "three";

/** Two hidden meshes with the geometry of `solid`; shown only while a section is on. */
export function stencilTwins(solid, materials) {
  return [materials.back, materials.front].map((material) => {
    const twin = solid.isInstancedMesh
      ? new InstancedMesh(solid.geometry, material, solid.instanceMatrix.count)
      : new Mesh(solid.geometry, material);
    if (solid.isInstancedMesh) twin.instanceMatrix = solid.instanceMatrix;
    twin.visible = false;
    return twin;
  });
}
