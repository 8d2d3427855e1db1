// Round runs at their true outside diameter: cylinders, with a ball at each bend.

import {
  Box3,
  CylinderGeometry,
  Group,
  InstancedBufferAttribute,
  InstancedMesh,
  Matrix4,
  Quaternion,
  SphereGeometry,
  Vector3,
} from "three";
import { before } from "../blocks.js";
import { meetTube } from "../rays.js";
import { stencilTwins } from "./stencils.js";

const round = (sides, rings) => ({
  cylinder: new CylinderGeometry(1, 1, 1, sides).translate(0, 0.5, 0),
  ball: new SphereGeometry(1, sides, rings),
});
const [FINE, PLAIN, ROUGH] = [round(24, 12), round(10, 5), round(6, 3)];
const THIN = 12; // mm of radius up to which few sides look round
const UP = new Vector3(0, 1, 0);
const AROUND = 8;

/** One block of tubes. */
export class TubeItem {
  constructor(block, read, materials) {
    Object.assign(this, block, read);
    this.count = this.rows.length;
    this.turning = [...this.rows.keys()].filter((k) => this.values[8 * k + 7] > 0);
    this.bounds = new Box3();
    const isThick = this.#thickest() > THIN;
    this.near = isThick ? FINE : PLAIN;
    this.far = isThick ? PLAIN : ROUGH;
    this.pipes = instances(this.far.cylinder, materials.fill, this.count);
    this.balls = instances(this.far.ball, materials.fill, this.turning.length);
    for (let k = 0; k < this.count; k++) this.#place(k);
    this.turning.forEach((k, place) => this.balls.setMatrixAt(place, this.#ball(k)));
    this.turnRows = Uint32Array.from(this.turning, (k) => this.rows[k]);
    this.pipeTwins = stencilTwins(this.pipes, materials);
    this.ballTwins = stencilTwins(this.balls, materials);
    this.twins = [...this.pipeTwins, ...this.ballTwins];
    this.object = new Group().add(this.pipes, this.balls, ...this.twins);
  }

  /** Few sides are enough from far away. */
  setNear(isNear) {
    const { cylinder, ball } = isNear ? this.near : this.far;
    for (const mesh of [this.pipes, ...this.pipeTwins]) mesh.geometry = cylinder;
    for (const mesh of [this.balls, ...this.ballTwins]) mesh.geometry = ball;
  }

  setLimit(step) {
    const shown = before(this.rows, step);
    for (const mesh of [this.pipes, ...this.pipeTwins]) mesh.count = shown;
    const turns = before(this.turnRows, step);
    for (const mesh of [this.balls, ...this.ballTwins]) mesh.count = turns;
  }

  paint(colourOf) {
    for (let k = 0; k < this.count; k++) this.pipes.setColorAt(k, colourOf(this.rows[k]));
    this.turnRows.forEach((row, place) => this.balls.setColorAt(place, colourOf(row)));
    for (const mesh of [this.pipes, this.balls]) mesh.instanceColor.needsUpdate = true;
  }

  pick(ray) {
    const best = { t: Infinity, row: -1 };
    for (let k = 0; k < this.pipes.count; k++) {
      const t = meetTube(ray, this.values, 8 * k);
      if (t < best.t) Object.assign(best, { t, row: this.rows[k] });
    }
    return best;
  }

  corners(row) {
    return this.#of(row).flatMap((k) =>
      this.#ends(k)
        .slice(0, 2)
        .map((point) => point.toArray()),
    );
  }

  outline(row) {
    return this.#of(row).flatMap((k) => {
      const [start, end, radius] = this.#ends(k);
      const axis = end.clone().sub(start).normalize();
      const side = new Vector3(Math.abs(axis.x) < 0.9 ? 1 : 0, Math.abs(axis.x) < 0.9 ? 0 : 1, 0)
        .cross(axis)
        .normalize();
      const other = axis.clone().cross(side);
      const ring = (centre) =>
        Array.from({ length: AROUND }, (_, n) => {
          const turn = (2 * Math.PI * n) / AROUND;
          return centre
            .clone()
            .addScaledVector(side, radius * Math.cos(turn))
            .addScaledVector(other, radius * Math.sin(turn));
        });
      const [low, high] = [ring(start), ring(end)];
      return low
        .flatMap((point, n) => [
          point,
          low[(n + 1) % AROUND],
          high[n],
          high[(n + 1) % AROUND],
          ...(n % 2 ? [] : [point, high[n]]),
        ])
        .map((point) => point.toArray());
    });
  }

  /** Round cuts show by their cap alone. */
  cut() {
    return [];
  }

  dispose() {
    this.pipes.dispose();
    this.balls.dispose();
  }

  #thickest() {
    return Math.max(...this.values.filter((_, place) => place % 8 === 6));
  }

  #of(row) {
    return [...this.rows.keys()].filter((k) => this.rows[k] === row);
  }

  #ends(k) {
    const at = this.values.subarray(8 * k, 8 * k + 8);
    return [new Vector3(at[0], at[1], at[2]), new Vector3(at[3], at[4], at[5]), at[6]];
  }

  #place(k) {
    const [start, end, radius] = this.#ends(k);
    const along = end.clone().sub(start);
    const length = along.length();
    const turn = new Quaternion().setFromUnitVectors(UP, along.divideScalar(length));
    this.pipes.setMatrixAt(k, new Matrix4().compose(start, turn, new Vector3(radius, length, radius)));
    for (const point of [start, end]) {
      this.bounds.expandByPoint(point.clone().addScalar(radius)).expandByPoint(point.clone().addScalar(-radius));
    }
  }

  #ball(k) {
    const [, end, radius] = this.#ends(k);
    return new Matrix4().makeScale(radius, radius, radius).setPosition(end);
  }
}

function instances(geometry, material, count) {
  const mesh = new InstancedMesh(geometry, material, count);
  mesh.instanceColor = new InstancedBufferAttribute(new Float32Array(3 * count), 3);
  return mesh;
}
