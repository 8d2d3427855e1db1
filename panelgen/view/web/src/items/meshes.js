// Cut and bored members, notched sheets, ducts: closed meshes, flat shaded, with crisp edges.

import { Box3, BufferAttribute, BufferGeometry, Group, LineSegments, Mesh } from "three";
import { before } from "../blocks.js";
import { cutTriangles } from "../cuts.js";
import { meetTriangle } from "../rays.js";
import { sharpEdges } from "./edges.js";
import { stencilTwins } from "./stencils.js";

const SMOOTH_BELOW = 24; // degrees between faces that are drawn as one

/** One block of meshes, a stretch of triangles for each part. */
export class MeshItem {
  /** `read` holds `count`, `counts`, `points` and `faces` as in `readMeshes`. */
  constructor(block, read, materials) {
    Object.assign(this, block, read);
    this.parts = [];
    const edges = [];
    let face = 0;
    let point = 0;
    for (let k = 0; k < this.count; k++) {
      const [row, points, faces] = this.counts.subarray(3 * k, 3 * k + 3);
      const own = sharpEdges(this.points, this.faces.subarray(3 * face, 3 * (face + faces)), SMOOTH_BELOW);
      this.parts.push({ row, point, points, face, faces, edge: edges.length / 3, edges: own.length / 3 });
      for (const value of own) edges.push(value);
      face += faces;
      point += points;
    }
    this.rows = Uint32Array.from(this.parts, (part) => part.row);
    const geometry = flat(this.points, this.faces);
    this.solid = new Mesh(geometry, materials.fill);
    this.edges = new LineSegments(lines(edges), materials.edge);
    this.edges.renderOrder = 2;
    this.twins = stencilTwins(this.solid, materials);
    this.object = new Group().add(this.solid, this.edges, ...this.twins);
    this.bounds = new Box3().setFromArray(this.points);
    this.limit = this.parts.length;
  }

  setLimit(step) {
    this.limit = before(this.rows, step);
    const next = this.parts[this.limit];
    this.solid.geometry.setDrawRange(0, next ? 3 * next.face : Infinity);
    this.edges.geometry.setDrawRange(0, next ? next.edge : Infinity);
  }

  paint(colourOf) {
    const colours = this.solid.geometry.getAttribute("color");
    for (const { row, face, faces } of this.parts) {
      const { r, g, b } = colourOf(row);
      for (let k = 3 * face; k < 3 * (face + faces); k++) colours.setXYZ(k, r, g, b);
    }
    colours.needsUpdate = true;
  }

  pick(ray) {
    const best = { t: Infinity, row: -1 };
    for (const { row, face, faces } of this.parts.slice(0, this.limit)) {
      for (let k = 3 * face; k < 3 * (face + faces); k += 3) {
        const t = meetTriangle(ray, this.points, this.faces[k], this.faces[k + 1], this.faces[k + 2]);
        if (t < best.t) Object.assign(best, { t, row });
      }
    }
    return best;
  }

  corners(row) {
    return this.#of(row).flatMap(({ point, points }) => triples(this.points, point, points));
  }

  outline(row) {
    const all = this.edges.geometry.getAttribute("position").array;
    return this.#of(row).flatMap(({ edge, edges }) => triples(all, edge, edges));
  }

  cut(plane) {
    const next = this.parts[this.limit];
    return cutTriangles(this.points, next ? this.faces.subarray(0, 3 * next.face) : this.faces, plane);
  }

  dispose() {
    this.solid.geometry.dispose();
    this.edges.geometry.dispose();
  }

  #of(row) {
    return this.parts.filter((part) => part.row === row);
  }
}

function triples(values, start, count) {
  return Array.from({ length: count }, (_, k) => [...values.subarray(3 * (start + k), 3 * (start + k) + 3)]);
}

/** Triangles that share no points, so that each is shaded by its own plane. */
function flat(points, faces) {
  const positions = new Float32Array(3 * faces.length);
  for (let k = 0; k < faces.length; k++) {
    for (let axis = 0; axis < 3; axis++) positions[3 * k + axis] = points[3 * faces[k] + axis];
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions, 3));
  geometry.setAttribute("color", new BufferAttribute(new Float32Array(3 * faces.length), 3));
  geometry.computeVertexNormals();
  return geometry;
}

function lines(values) {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(new Float32Array(values), 3));
  return geometry;
}
