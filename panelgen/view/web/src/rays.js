// Exact meetings of a ray with boxes, triangles and tubes. A ray is {o, d, from, to}: points o + t d, from <= t <= to.

/** Where the ray enters a box (origin and three perpendicular edges at places[at…at+11]); Infinity if it misses. */
export function meetBox(ray, places, at) {
  let enter = ray.from;
  let leave = ray.to;
  const [ox, oy, oz] = ray.o;
  const [dx, dy, dz] = ray.d;
  const px = ox - places[at];
  const py = oy - places[at + 1];
  const pz = oz - places[at + 2];
  for (let edge = at + 3; edge < at + 12; edge += 3) {
    const ex = places[edge];
    const ey = places[edge + 1];
    const ez = places[edge + 2];
    const square = ex * ex + ey * ey + ez * ez;
    const start = (px * ex + py * ey + pz * ez) / square;
    const speed = (dx * ex + dy * ey + dz * ez) / square;
    if (Math.abs(speed) < 1e-12) {
      if (start < 0 || start > 1) return Infinity;
      continue;
    }
    const one = -start / speed;
    const two = (1 - start) / speed;
    enter = Math.max(enter, Math.min(one, two));
    leave = Math.min(leave, Math.max(one, two));
    if (enter > leave) return Infinity;
  }
  return enter;
}

/** Where the ray meets a triangle of `points` by vertex numbers, from either side; Infinity if it misses. */
export function meetTriangle(ray, points, a, b, c) {
  const [ox, oy, oz] = ray.o;
  const [dx, dy, dz] = ray.d;
  const ax = points[3 * a];
  const ay = points[3 * a + 1];
  const az = points[3 * a + 2];
  const ux = points[3 * b] - ax;
  const uy = points[3 * b + 1] - ay;
  const uz = points[3 * b + 2] - az;
  const vx = points[3 * c] - ax;
  const vy = points[3 * c + 1] - ay;
  const vz = points[3 * c + 2] - az;
  const px = dy * vz - dz * vy;
  const py = dz * vx - dx * vz;
  const pz = dx * vy - dy * vx;
  const volume = ux * px + uy * py + uz * pz;
  if (Math.abs(volume) < 1e-12) return Infinity;
  const sx = ox - ax;
  const sy = oy - ay;
  const sz = oz - az;
  const u = (sx * px + sy * py + sz * pz) / volume;
  if (u < 0 || u > 1) return Infinity;
  const qx = sy * uz - sz * uy;
  const qy = sz * ux - sx * uz;
  const qz = sx * uy - sy * ux;
  const v = (dx * qx + dy * qy + dz * qz) / volume;
  if (v < 0 || u + v > 1) return Infinity;
  const t = (vx * qx + vy * qy + vz * qz) / volume;
  return t >= ray.from && t <= ray.to ? t : Infinity;
}

/** Where the ray enters a capsule of start, end and radius at values[at…at+6]; Infinity if it misses. */
export function meetTube(ray, values, at) {
  const start = values.subarray(at, at + 3);
  const axis = [values[at + 3] - start[0], values[at + 4] - start[1], values[at + 5] - start[2]];
  const radius = values[at + 6];
  const from = [ray.o[0] - start[0], ray.o[1] - start[1], ray.o[2] - start[2]];
  const square = dot(axis, axis);
  const along = dot(axis, ray.d);
  const offset = dot(axis, from);
  const a = square - along * along;
  const b = square * dot(from, ray.d) - offset * along;
  const c = square * (dot(from, from) - radius * radius) - offset * offset;
  const root = b * b - a * c;
  if (root < 0) return Infinity;
  if (a > 1e-9 * square) {
    const t = (-b - Math.sqrt(root)) / a;
    const place = offset + t * along;
    if (place >= 0 && place <= square) return t >= ray.from && t <= ray.to ? t : Infinity;
  }
  return Math.min(meetSphere(ray, start, radius), meetSphere(ray, values.subarray(at + 3, at + 6), radius));
}

function meetSphere(ray, centre, radius) {
  const from = [ray.o[0] - centre[0], ray.o[1] - centre[1], ray.o[2] - centre[2]];
  const b = dot(from, ray.d);
  const root = b * b - dot(from, from) + radius * radius;
  if (root < 0) return Infinity;
  const t = -b - Math.sqrt(root);
  return t >= ray.from && t <= ray.to ? t : Infinity;
}

function dot(a, b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
