// The section plane: cuts all that is shown, and closes each layer with a cap in its own colour.

import { BufferGeometry, LineBasicMaterial, LineSegments, Mesh, Plane, PlaneGeometry, Vector3 } from "three";

const AXES = { length: [1, 0, 0], height: [0, 1, 0], depth: [0, 0, 1] };
const SQUARE = new PlaneGeometry(1, 1);
const TOWARD = new Vector3(0, 0, 1);
const NOWHERE = { normal: new Vector3(), constant: 1 }; // all is on its shown side
const SIDEWAYS = 1e-3;
const SPARE = 1; // mm of cap beyond what is cut

export class Section {
  constructor(stage, house) {
    this.stage = stage;
    this.house = house;
    this.axis = "off";
    this.share = 0.5;
    this.flipped = false;
    this.plane = null;
    this.caps = new Map();
    this.lines = new LineSegments(new BufferGeometry(), new LineBasicMaterial({ color: 0x14181d }));
    this.lines.frustumCulled = false;
    this.lines.visible = false;
    stage.overlay.add(this.lines);
  }

  /** Set some of `axis` (off, length, height, depth), `share` of the way and `flipped`; an axis opens toward the camera. */
  set(changes) {
    Object.assign(this, changes);
    if (changes.axis in AXES) this.flipped = new Vector3(...this.stage.direction).dot(this.#along()) < -SIDEWAYS;
    this.apply();
  }

  /** Bring the plane and the caps in line with what is shown. */
  apply() {
    const isOn = this.axis !== "off";
    if (isOn !== this.house.cutting) {
      this.house.cutting = isOn;
      this.house.show();
    }
    this.plane = isOn ? this.#place() : null;
    const { normal, constant } = this.plane ?? NOWHERE;
    this.stage.shared.uPlane.value.set(normal.x, normal.y, normal.z, constant);
    for (const [name, materials] of this.house.materials) {
      if (!this.caps.has(name)) this.#makeCap(name, materials);
      this.#putCap(this.caps.get(name), isOn && this.house.mode(name) === "shown");
    }
    this.#drawLines(isOn);
    this.stage.invalidate();
  }

  /** Where the plane stands, mm along its axis in the coordinates of what is open. */
  get position() {
    const { min, max } = this.stage.bounds;
    const ends = [min, max].map((corner) => corner.dot(this.#along()));
    const low = Math.min(...ends);
    return low + this.share * (Math.max(...ends) - low);
  }

  dispose() {
    this.lines.geometry.dispose();
    this.lines.material.dispose();
    for (const cap of this.caps.values()) cap.removeFromParent();
  }

  /** The axis as the scene has it. */
  #along() {
    return this.house.attitude.toScene(...AXES[this.axis]).round();
  }

  #place() {
    const point = this.#along().multiplyScalar(this.position);
    return new Plane().setFromNormalAndCoplanarPoint(this.#along().multiplyScalar(this.flipped ? 1 : -1), point);
  }

  #drawLines(isOn) {
    this.lines.visible = isOn;
    this.lines.geometry.dispose();
    if (!isOn) return;
    const isShown = (item) => item.kind !== "panes" && this.house.mode(item.layer) === "shown";
    const points = this.house.inView.flatMap((panel) => panel.cut(this.plane, isShown));
    this.lines.geometry = new BufferGeometry().setFromPoints(points);
  }

  #makeCap(name, materials) {
    const cap = new Mesh(SQUARE, materials.cap);
    cap.renderOrder = this.house.capOrder.get(name) + 1;
    cap.onAfterRender = (renderer) => renderer.clearStencil();
    this.stage.overlay.add(cap);
    this.caps.set(name, cap);
  }

  #putCap(cap, isShown) {
    cap.visible = isShown;
    if (!isShown) return;
    this.plane.projectPoint(this.stage.bounds.getCenter(new Vector3()), cap.position);
    cap.quaternion.setFromUnitVectors(TOWARD, this.plane.normal);
    const wide = this.stage.bounds.getSize(new Vector3()).length() + SPARE;
    cap.scale.set(wide, wide, 1);
  }
}
