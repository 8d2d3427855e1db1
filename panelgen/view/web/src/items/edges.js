// The edges of a closed mesh at which its surface turns.

/**
 * Pairs of end points, as numbers in a row, of the edges of a mesh whose faces turn by more than `degrees`.
 * `points` is f32[3 n], `faces` u32[3 m] into it.
 */
export function sharpEdges(points, faces, degrees) {
  const limit = Math.cos((degrees * Math.PI) / 180);
  const normals = faceNormals(points, faces);
  const count = points.length / 3;
  const open = new Map();
  const out = [];
  for (let face = 0; face < faces.length; face += 3) {
    for (let corner = 0; corner < 3; corner++) {
      const a = faces[face + corner];
      const b = faces[face + ((corner + 1) % 3)];
      const twin = open.get(b * count + a);
      if (twin === undefined) {
        open.set(a * count + b, face);
        continue;
      }
      open.delete(b * count + a);
      const cosine =
        normals[face] * normals[twin] + normals[face + 1] * normals[twin + 1] + normals[face + 2] * normals[twin + 2];
      if (cosine < limit) for (const end of [a, b]) out.push(points[3 * end], points[3 * end + 1], points[3 * end + 2]);
    }
  }
  return out;
}

/** Unit normals, three numbers a face. */
function faceNormals(points, faces) {
  const normals = new Float32Array(faces.length);
  for (let face = 0; face < faces.length; face += 3) {
    const [a, b, c] = [3 * faces[face], 3 * faces[face + 1], 3 * faces[face + 2]];
    const ux = points[b] - points[a];
    const uy = points[b + 1] - points[a + 1];
    const uz = points[b + 2] - points[a + 2];
    const vx = points[c] - points[a];
    const vy = points[c + 1] - points[a + 1];
    const vz = points[c + 2] - points[a + 2];
    const x = uy * vz - uz * vy;
    const y = uz * vx - ux * vz;
    const z = ux * vy - uy * vx;
    const size = Math.hypot(x, y, z) || 1;
    normals[face] = x / size;
    normals[face + 1] = y / size;
    normals[face + 2] = z / size;
  }
  return normals;
}
