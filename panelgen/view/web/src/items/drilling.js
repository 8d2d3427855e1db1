// Boxes with round holes as closed meshes.

import { ShapeUtils, Vector2, Vector3 } from "three";

const FEW = 16;
const MANY = 28;
const LARGE = 25; // mm of radius from which a hole is drawn with more sides

/** Meshes, as `readMeshes` gives them, of bored boxes as `readBored` gives them. */
export function drilled({ rows, places, holeCounts, holes }) {
  const counts = [];
  const points = [];
  const faces = [];
  let hole = 0;
  rows.forEach((row, k) => {
    const own = [];
    for (let n = 0; n < holeCounts[k]; n++, hole++) own.push(holes.subarray(5 * hole, 5 * hole + 5));
    const start = points.length / 3;
    const triangles = drill(places.subarray(12 * k, 12 * k + 12), own, points);
    counts.push(row, points.length / 3 - start, triangles.length / 3);
    for (const corner of triangles) faces.push(start + corner);
  });
  return {
    count: rows.length,
    counts: Uint32Array.from(counts),
    points: Float32Array.from(points),
    faces: Uint32Array.from(faces),
  };
}

/** Adds the points of one bored box, all of the near face before all of the far one; returns its triangles. */
function drill(place, holes, points) {
  const [origin, length, width, depth] = [0, 3, 6, 9].map((at) => new Vector3(...place.subarray(at, at + 3)));
  const [long, wide, deep] = [length, width, depth].map((edge) => edge.length());
  const near = [rectangle(long, wide), ...holes.map((hole) => ellipse(hole, deep, 0))];
  const far = [rectangle(long, wide), ...holes.map((hole) => ellipse(hole, deep, 1))];
  for (const [rings, share] of [
    [near, 0],
    [far, 1],
  ]) {
    for (const { x, y } of rings.flat()) {
      const at = origin
        .clone()
        .addScaledVector(length, x / long)
        .addScaledVector(width, y / wide)
        .addScaledVector(depth, share);
      points.push(at.x, at.y, at.z);
    }
  }
  const total = near.flat().length;
  const lid = ShapeUtils.triangulateShape(near[0], near.slice(1));
  const triangles = lid.flatMap(([a, b, c]) => [a, c, b]);
  triangles.push(...lid.flatMap((corners) => corners.map((corner) => corner + total)));
  let first = 0;
  for (const ring of near) {
    ring.forEach((_, n) => {
      const here = first + n;
      const ahead = first + ((n + 1) % ring.length);
      triangles.push(here, ahead, ahead + total, here, ahead + total, here + total);
    });
    first += ring.length;
  }
  return triangles;
}

function rectangle(long, wide) {
  return [
    [0, 0],
    [long, 0],
    [long, wide],
    [0, wide],
  ].map(([x, y]) => new Vector2(x, y));
}

/** The clockwise outline of a hole where it enters (end 0) or leaves (end 1) a face. */
function ellipse([x0, y0, x1, y1, radius], deep, end) {
  const axis = new Vector3(x1 - x0, y1 - y0, deep).normalize();
  const u = new Vector3(0, 1, 0).cross(axis).normalize();
  const v = axis.clone().cross(u);
  const count = radius < LARGE ? FEW : MANY;
  return Array.from({ length: count }, (_, n) => {
    const turn = (-2 * Math.PI * n) / count;
    const point = u
      .clone()
      .multiplyScalar(radius * Math.cos(turn))
      .addScaledVector(v, radius * Math.sin(turn));
    return new Vector2(
      x0 + end * (x1 - x0) + point.x - (point.z * axis.x) / axis.z,
      y0 + end * (y1 - y0) + point.y - (point.z * axis.y) / axis.z,
    );
  });
}
