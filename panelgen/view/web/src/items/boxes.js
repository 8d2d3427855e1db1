// Boxes as instances of one cube: members and sheets without cuts, device boxes, frames of units, bays.

import {
  BoxGeometry,
  Box3,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
  InstancedMesh,
  BufferAttribute,
  Group,
  LineSegments,
  Sphere,
  Vector3,
} from "three";
import { before } from "../blocks.js";
import { cutBoxes } from "../cuts.js";
import { meetBox } from "../rays.js";
import { stencilTwins } from "./stencils.js";

const CUBE = new BoxGeometry(1, 1, 1).translate(0.5, 0.5, 0.5);
/** The eight corners; place k has bit 1 of k along x, bit 2 along y, bit 4 along z. */
export const CUBE_CORNERS = [0, 1, 2, 3, 4, 5, 6, 7].map((k) => [k & 1, (k >> 1) & 1, (k >> 2) & 1]);
/** The twelve edges as pairs of corners. */
export const CUBE_EDGES = CUBE_CORNERS.flatMap((a, i) =>
  CUBE_CORNERS.slice(i + 1)
    .filter((b) => Math.abs(a[0] - b[0]) + Math.abs(a[1] - b[1]) + Math.abs(a[2] - b[2]) === 1)
    .flatMap((b) => [a, b]),
);
const EDGE_POSITIONS = new BufferAttribute(new Float32Array(CUBE_EDGES.flat()), 3);

/** One block of boxes, or of panes of glass. */
export class BoxItem {
  /** `read` holds `rows` and `places` as in `readBoxes`. */
  constructor(block, read, materials) {
    Object.assign(this, block, read);
    const count = this.rows.length;
    this.count = count;
    const isPane = block.kind === "panes";
    this.solid = new InstancedMesh(CUBE, isPane ? materials.pane : materials.fill, count);
    this.solid.instanceColor = new InstancedBufferAttribute(new Float32Array(3 * count), 3);
    this.bounds = new Box3();
    for (let k = 0; k < count; k++) this.#place(k);
    this.edges = new LineSegments(this.#edgeGeometry(), materials.placedEdge);
    this.edges.renderOrder = 2;
    this.twins = isPane ? [] : stencilTwins(this.solid, materials);
    this.object = new Group().add(this.solid, this.edges, ...this.twins);
  }

  setLimit(step) {
    const shown = before(this.rows, step);
    for (const mesh of [this.solid, ...this.twins]) mesh.count = shown;
    this.edges.geometry.instanceCount = shown;
  }

  paint(colourOf) {
    for (let k = 0; k < this.count; k++) this.solid.setColorAt(k, colourOf(this.rows[k]));
    this.solid.instanceColor.needsUpdate = true;
  }

  pick(ray) {
    const best = { t: Infinity, row: -1 };
    for (let k = 0; k < this.solid.count; k++) {
      const t = meetBox(ray, this.places, 12 * k);
      if (t < best.t) Object.assign(best, { t, row: this.rows[k] });
    }
    return best;
  }

  /** Corner points of a part. */
  corners(row) {
    return this.#of(row).flatMap((k) => CUBE_CORNERS.map((corner) => this.#corner(k, corner)));
  }

  /** Pairs of points: the edges of a part. */
  outline(row) {
    return this.#of(row).flatMap((k) => CUBE_EDGES.map((corner) => this.#corner(k, corner)));
  }

  /** Pairs of points where a plane cuts the boxes. */
  cut(plane) {
    return cutBoxes(this.places, this.solid.count, plane);
  }

  dispose() {
    this.edges.geometry.dispose();
    this.solid.dispose();
  }

  #of(row) {
    return [...this.rows.keys()].filter((k) => this.rows[k] === row);
  }

  #corner(k, [u, v, w]) {
    const at = this.places.subarray(12 * k, 12 * k + 12);
    return [0, 1, 2].map((axis) => at[axis] + u * at[3 + axis] + v * at[6 + axis] + w * at[9 + axis]);
  }

  #place(k) {
    const [x, y, z, ...edges] = this.places.subarray(12 * k, 12 * k + 12);
    const [a, b, c, d, e, f, g, h, i] = edges;
    this.solid.instanceMatrix.array.set([a, b, c, 0, d, e, f, 0, g, h, i, 0, x, y, z, 1], 16 * k);
    for (const corner of CUBE_CORNERS) this.bounds.expandByPoint(new Vector3(...this.#corner(k, corner)));
  }

  #edgeGeometry() {
    const geometry = new InstancedBufferGeometry();
    geometry.setAttribute("position", EDGE_POSITIONS);
    geometry.setAttribute("placement", this.solid.instanceMatrix);
    geometry.instanceCount = this.count;
    geometry.boundingSphere = this.bounds.getBoundingSphere(new Sphere());
    return geometry;
  }
}
