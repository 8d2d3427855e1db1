// Nails and screws: a disc for each head, a line for each shank, however many there are.

import { Box3, BufferAttribute, BufferGeometry, Group, LineSegments, Points } from "three";
import { before } from "../blocks.js";

const HEAD_PER_SHANK = 2.4; // drawn, not a fact about nails
const REACH = 5; // pixels around a head that count as on it

/** One block of rows of nails. */
export class NailItem {
  constructor(block, read, materials) {
    Object.assign(this, block, read);
    this.starts = new Uint32Array(this.count + 1);
    for (let k = 0; k < this.count; k++) this.starts[k + 1] = this.starts[k] + this.counts[2 * k + 1];
    this.rows = Uint32Array.from({ length: this.count }, (_, k) => this.counts[2 * k]);
    const total = this.starts[this.count];
    this.heads = new Float32Array(total);
    const shanks = new Float32Array(6 * total);
    for (let k = 0; k < this.count; k++) {
      const [dx, dy, dz, length, shank] = this.kinds.subarray(5 * k, 5 * k + 5);
      for (let n = this.starts[k]; n < this.starts[k + 1]; n++) {
        const [x, y, z] = this.places.subarray(3 * n, 3 * n + 3);
        shanks.set([x, y, z, x + dx * length, y + dy * length, z + dz * length], 6 * n);
        this.heads[n] = HEAD_PER_SHANK * shank;
      }
    }
    const points = new BufferGeometry();
    points.setAttribute("position", new BufferAttribute(this.places, 3));
    points.setAttribute("head", new BufferAttribute(this.heads, 1));
    points.setAttribute("color", new BufferAttribute(new Float32Array(3 * total), 3));
    this.points = new Points(points, materials.head);
    const lines = new BufferGeometry();
    lines.setAttribute("position", new BufferAttribute(shanks, 3));
    this.lines = new LineSegments(lines, materials.edge);
    this.points.renderOrder = this.lines.renderOrder = 3;
    this.object = new Group().add(this.points, this.lines);
    this.twins = [];
    this.bounds = new Box3().setFromArray(shanks);
    this.shown = this.count;
  }

  setLimit(step) {
    this.shown = before(this.rows, step);
    this.points.geometry.setDrawRange(0, this.starts[this.shown]);
    this.lines.geometry.setDrawRange(0, 2 * this.starts[this.shown]);
  }

  /** Shanks are drawn only from near: a house has too many to see. */
  setNear(isNear) {
    this.lines.visible = isNear;
  }

  paint(colourOf) {
    const colours = this.points.geometry.getAttribute("color");
    for (let k = 0; k < this.count; k++) {
      const { r, g, b } = colourOf(this.rows[k]);
      for (let n = this.starts[k]; n < this.starts[k + 1]; n++) colours.setXYZ(n, r, g, b);
    }
    colours.needsUpdate = true;
  }

  /** A head near the ray counts as on it, nearer by its own size so that it wins over what it is driven into. */
  pick(ray) {
    const best = { t: Infinity, row: -1 };
    const [ox, oy, oz] = ray.o;
    const [dx, dy, dz] = ray.d;
    for (let k = 0; k < this.shown; k++) {
      for (let n = this.starts[k]; n < this.starts[k + 1]; n++) {
        const x = this.places[3 * n] - ox;
        const y = this.places[3 * n + 1] - oy;
        const z = this.places[3 * n + 2] - oz;
        const along = x * dx + y * dy + z * dz;
        if (along < ray.from || along > ray.to) continue;
        const reach = Math.max(this.heads[n] / 2, Math.min(REACH * ray.mmPerPixel(along), this.heads[n]));
        const aside = x * x + y * y + z * z - along * along;
        const t = along - this.heads[n];
        if (aside <= reach * reach && t < best.t) Object.assign(best, { t, row: this.rows[k] });
      }
    }
    return best;
  }

  corners(row) {
    return this.#points(row).map(([head]) => head);
  }

  outline(row) {
    return this.#points(row).flat();
  }

  cut() {
    return [];
  }

  dispose() {
    this.points.geometry.dispose();
    this.lines.geometry.dispose();
  }

  #points(row) {
    const shanks = this.lines.geometry.getAttribute("position").array;
    return [...this.rows.keys()]
      .filter((k) => this.rows[k] === row)
      .flatMap((k) =>
        Array.from({ length: this.starts[k + 1] - this.starts[k] }, (_, m) => {
          const at = 6 * (this.starts[k] + m);
          return [[...shanks.subarray(at, at + 3)], [...shanks.subarray(at + 3, at + 6)]];
        }),
      );
  }
}
