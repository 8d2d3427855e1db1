// Buffers as typed arrays, without copying. The layout is told in blocks.py.

/** n boxes: `rows` u32[n], `places` f32[12 n]. */
export function readBoxes(buffer) {
  const [count] = new Uint32Array(buffer, 0, 1);
  return { rows: new Uint32Array(buffer, 4, count), places: new Float32Array(buffer, 4 + 4 * count, 12 * count) };
}

/** n bored boxes: `rows` and `places` as of boxes, `holeCounts` u32[n], and the holes of all, f32[5 total]. */
export function readBored(buffer) {
  const [count, total] = new Uint32Array(buffer, 0, 2);
  const counts = new Uint32Array(buffer, 8, 2 * count);
  return {
    rows: counts.filter((_, place) => place % 2 === 0),
    holeCounts: counts.filter((_, place) => place % 2 === 1),
    places: new Float32Array(buffer, 8 + 8 * count, 12 * count),
    holes: new Float32Array(buffer, 8 + 56 * count, 5 * total),
  };
}

/** n tubes: `rows` u32[n], `values` f32[8 n]. */
export function readTubes(buffer) {
  const [count] = new Uint32Array(buffer, 0, 1);
  return { rows: new Uint32Array(buffer, 4, count), values: new Float32Array(buffer, 4 + 4 * count, 8 * count) };
}

/** Meshes of n parts one after another: `counts` u32[3 n] of part, vertices, triangles. */
export function readMeshes(buffer) {
  const [count, vertices, triangles] = new Uint32Array(buffer, 0, 3);
  let at = 12;
  const counts = new Uint32Array(buffer, at, 3 * count);
  at += 12 * count;
  const points = new Float32Array(buffer, at, 3 * vertices);
  at += 12 * vertices;
  return { count, counts, points, faces: new Uint32Array(buffer, at, 3 * triangles) };
}

/** Rows of nails: `counts` u32[2 n] of part and nails, `kinds` f32[5 n], and the places of all heads, f32[3 total]. */
export function readNails(buffer) {
  const [count, total] = new Uint32Array(buffer, 0, 2);
  let at = 8;
  const counts = new Uint32Array(buffer, at, 2 * count);
  at += 8 * count;
  const kinds = new Float32Array(buffer, at, 5 * count);
  at += 20 * count;
  const scale = new Float32Array(buffer, at, 6);
  at += 24;
  const steps = new Uint16Array(buffer, at, 3 * total);
  const places = new Float32Array(3 * total);
  for (let k = 0; k < places.length; k++) places[k] = scale[k % 3] + steps[k] * scale[3 + (k % 3)];
  return { count, counts, kinds, places };
}

/** How many of the rising `rows` come before `limit`. */
export function before(rows, limit) {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle] < limit) low = middle + 1;
    else high = middle;
  }
  return low;
}
