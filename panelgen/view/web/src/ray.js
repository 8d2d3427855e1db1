// The line of sight through a pixel, kept to the side of the section plane that is shown.

import { Matrix4, Vector3 } from "three";

/** A ray in some coordinates: {o, d, from, to} as the meeting tests want it. */
export class SightRay {
  constructor(origin, direction, from, to, mmPerPixel) {
    this.origin = origin;
    this.direction = direction;
    this.from = from;
    this.to = to;
    this.mmPerPixel = mmPerPixel;
    this.o = origin.toArray();
    this.d = direction.toArray();
  }

  /** Through a place on the screen, x and y in -1…1; `plane` is the section or null; `height` in pixels. */
  static through(camera, x, y, plane, height) {
    const near = new Vector3(x, y, -1).unproject(camera);
    const far = new Vector3(x, y, 1).unproject(camera);
    const direction = far.clone().sub(near);
    const length = direction.length();
    direction.divideScalar(length);
    let from = 0;
    let to = length;
    if (plane) {
      const start = plane.distanceToPoint(near);
      const speed = plane.normal.dot(direction);
      if (speed > 1e-9) from = Math.max(from, -start / speed);
      else if (speed < -1e-9) to = Math.min(to, -start / speed);
      else if (start < 0) to = -1;
    }
    const perMm = camera.isOrthographicCamera
      ? () => (camera.top - camera.bottom) / camera.zoom / height
      : (t) => (2 * (t + camera.near)) / camera.projectionMatrix.elements[5] / height;
    return new SightRay(near, direction, from, to, perMm);
  }

  /** The point at a distance along it. */
  at(t) {
    return this.origin.clone().addScaledVector(this.direction, t);
  }

  /** The same ray in coordinates that `matrix`, a rigid move, takes to these. */
  inside(matrix) {
    const back = new Matrix4().copy(matrix).invert();
    const origin = this.origin.clone().applyMatrix4(back);
    const direction = this.direction.clone().transformDirection(back);
    return new SightRay(origin, direction, this.from, this.to, this.mmPerPixel);
  }

  /** Whether it comes within a few pixels of a box. */
  meets(box) {
    const spare = 20;
    let { from, to } = this;
    for (const axis of ["x", "y", "z"]) {
      const low = box.min[axis] - spare - this.origin[axis];
      const high = box.max[axis] + spare - this.origin[axis];
      const speed = this.direction[axis];
      if (Math.abs(speed) < 1e-12) {
        if (low > 0 || high < 0) return false;
        continue;
      }
      from = Math.max(from, Math.min(low / speed, high / speed));
      to = Math.min(to, Math.max(low / speed, high / speed));
      if (from > to) return false;
    }
    return true;
  }
}
