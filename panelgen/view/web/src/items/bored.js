// Bored sticks: boxes from far away, where holes are too small to see; drilled meshes, made when first needed, from near.

import { Group } from "three";
import { BoxItem } from "./boxes.js";
import { drilled } from "./drilling.js";
import { MeshItem } from "./meshes.js";

/** One block of bored boxes. */
export class BoredItem {
  constructor(block, read, materials) {
    Object.assign(this, block, read);
    this.materials = materials;
    this.far = new BoxItem(block, read, materials);
    this.near = null;
    this.shown = this.far;
    this.bounds = this.far.bounds;
    this.object = new Group().add(this.far.object);
    this.limit = Infinity;
  }

  get twins() {
    return this.shown.twins;
  }

  setNear(isNear) {
    if (isNear && !this.near) {
      const { kind, layer, slot, key } = this;
      this.near = new MeshItem({ kind, layer, slot, key }, drilled(this), this.materials);
      this.object.add(this.near.object);
      if (this.colourOf) this.near.paint(this.colourOf);
    }
    this.shown = isNear ? this.near : this.far;
    this.far.object.visible = !isNear;
    if (this.near) this.near.object.visible = isNear;
    this.shown.setLimit(this.limit);
  }

  setLimit(step) {
    this.limit = step;
    this.shown.setLimit(step);
  }

  paint(colourOf) {
    this.colourOf = colourOf;
    this.far.paint(colourOf);
    this.near?.paint(colourOf);
  }

  pick(ray) {
    return this.shown.pick(ray);
  }

  cut(plane) {
    return this.shown.cut(plane);
  }

  corners(row) {
    return this.far.corners(row);
  }

  outline(row) {
    return this.shown.outline(row);
  }

  dispose() {
    this.far.dispose();
    this.near?.dispose();
  }
}
