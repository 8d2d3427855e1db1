// The lines in which the section plane cuts the surfaces of parts, so that neighbours in a cap stay apart.

import { Vector3 } from "three";
import { CUBE_CORNERS, CUBE_EDGES } from "./items/boxes.js";

/** Pairs of points where a plane {normal, constant} cuts boxes of `places` (f32[12 n]), the first `count` of them. */
export function cutBoxes(places, count, { normal, constant }) {
  const out = [];
  const n = normal.toArray();
  for (let k = 0; k < count; k++) {
    const at = places.subarray(12 * k, 12 * k + 12);
    const shares = [0, 1, 2].map((edge) => dot(n, at, 3 + 3 * edge));
    const base = dot(n, at, 0) + constant;
    const heights = CUBE_CORNERS.map(([u, v, w]) => base + u * shares[0] + v * shares[1] + w * shares[2]);
    if (Math.min(...heights) >= 0 || Math.max(...heights) <= 0) continue;
    const points = [];
    for (let e = 0; e < CUBE_EDGES.length; e += 2) {
      const [a, b] = [CUBE_EDGES[e], CUBE_EDGES[e + 1]];
      const [ha, hb] = [a, b].map(([u, v, w]) => heights[u + 2 * v + 4 * w]);
      if (ha < 0 === hb < 0) continue;
      const share = ha / (ha - hb);
      const [u, v, w] = a.map((value, axis) => value + share * (b[axis] - value));
      points.push(
        new Vector3(...[0, 1, 2].map((axis) => at[axis] + u * at[3 + axis] + v * at[6 + axis] + w * at[9 + axis])),
      );
    }
    const ring = around(points, normal);
    ring.forEach((point, place) => out.push(point, ring[(place + 1) % ring.length]));
  }
  return out;
}

/** The same for triangles, `faces` u32[3 m] over `points` f32[3 n]. */
export function cutTriangles(points, faces, { normal, constant }) {
  const out = [];
  const n = normal.toArray();
  for (let k = 0; k < faces.length; k += 3) {
    const heights = [0, 1, 2].map((corner) => dot(n, points, 3 * faces[k + corner]) + constant);
    const cut = [];
    for (let corner = 0; corner < 3; corner++) {
      const next = (corner + 1) % 3;
      if (heights[corner] < 0 === heights[next] < 0) continue;
      const share = heights[corner] / (heights[corner] - heights[next]);
      const [a, b] = [3 * faces[k + corner], 3 * faces[k + next]];
      cut.push(
        new Vector3(...[0, 1, 2].map((axis) => points[a + axis] + share * (points[b + axis] - points[a + axis]))),
      );
    }
    out.push(...cut);
  }
  return out;
}

/** The points of a convex polygon in order around it. */
function around(points, normal) {
  const centre = points.reduce((sum, point) => sum.add(point), new Vector3()).divideScalar(points.length);
  const u = points[0].clone().sub(centre);
  const v = normal.clone().cross(u);
  const angle = (point) => Math.atan2(v.dot(point.clone().sub(centre)), u.dot(point.clone().sub(centre)));
  return points
    .map((point) => [angle(point), point])
    .sort((a, b) => a[0] - b[0])
    .map(([, point]) => point);
}

function dot(n, values, at) {
  return n[0] * values[at] + n[1] * values[at + 1] + n[2] * values[at + 2];
}
