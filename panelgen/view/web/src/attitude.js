// How an open panel is turned before a person: its weather side in front, upright, sloping or lying as in the house.

import { Matrix4, Vector3 } from "three";
import { frameMatrix } from "./panel.js";

const FLAT = 0.95; // of a panel's normal that points up or down
const STEEP = 0.05;

/** The attitude of a panel of that frame in the house; without one, of the house. */
export class Attitude {
  constructor(frame = null) {
    const normal = frame ? new Vector3().setFromMatrixColumn(frameMatrix(frame), 2) : new Vector3();
    this.isFlat = Math.abs(normal.z) > FLAT;
    this.isSloping = !this.isFlat && Math.abs(normal.z) > STEEP;
    this.isUp = normal.z > 0;
    this.turn = new Matrix4();
    if (this.isFlat) this.turn.makeRotationX((this.isUp ? -Math.PI : Math.PI) / 2);
    else if (this.isSloping) this.turn.makeRotationX(-Math.asin(normal.z));
    this.back = this.turn.clone().transpose();
  }

  /** A direction in panel axes as the scene has it. */
  toScene(x, y, z) {
    return new Vector3(x, y, z).applyMatrix4(this.turn);
  }

  /** A direction in the scene in panel axes. */
  toPanel(direction) {
    return direction.clone().applyMatrix4(this.back);
  }
}
