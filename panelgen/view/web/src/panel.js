// One panel in the scene: an item for each block, in groups that move apart when the panel is exploded.

import { Box3, Group, Matrix4, Vector3 } from "three";
import { makeItem, shapeBlocks } from "./items/index.js";
import { readParts } from "./store.js";

const TOUCHING = 1.0; // mm
const NO_NEIGHBOURS = new Set(["fasteners", "bay", "hardware"]);

/** A panel. Update it with a new head and only blocks of new content are made again. */
export class PanelScene {
  constructor() {
    this.root = new Group();
    this.root.matrixAutoUpdate = false;
    this.slots = new Map();
    this.items = new Map();
  }

  update(head, store, materials) {
    this.head = head;
    this.label = head.label;
    this.move();
    this.parts = readParts(store.table(head, "parts"), head.label);
    this.findings = store.table(head, "findings");
    this.boxes = null;
    const wanted = new Map(
      shapeBlocks(head).map((block) => [`${block.kind}|${block.layer}|${block.slot}|${block.key}`, block]),
    );
    for (const [name, item] of this.items) if (!wanted.has(name)) this.#remove(name, item);
    let made = 0;
    for (const [name, block] of wanted) {
      if (this.items.has(name)) continue;
      const item = makeItem(block, store.buffers.get(block.key), materials.get(block.layer));
      this.items.set(name, item);
      this.#slot(block.slot).add(item.object);
      made += 1;
    }
    return made;
  }

  /** Move its layers apart. */
  explode(distance) {
    for (const [slot, group] of this.slots) group.position.z = slot * distance;
  }

  /** Stand aside from its place in the house by a vector; without one, in its place. */
  move(by = new Vector3()) {
    this.root.matrix.copy(frameMatrix(this.head.frame)).premultiply(new Matrix4().makeTranslation(by));
    this.root.matrixWorldNeedsUpdate = true;
  }

  /** The least box around the whole of it in its place, put together. */
  get whole() {
    const box = new Box3();
    for (const item of this.items.values()) box.union(item.bounds);
    return box.applyMatrix4(frameMatrix(this.head.frame));
  }

  /** The least box around what is shown, in the coordinates of the root's parent. */
  bounds(isShown) {
    const box = new Box3();
    for (const item of this.items.values()) {
      if (!isShown(item)) continue;
      const moved = item.bounds.clone().translate(this.slots.get(item.slot).position);
      box.union(moved);
    }
    return box.isEmpty() ? box : box.applyMatrix4(this.root.matrix);
  }

  /** The items that draw a part, each with the place of its group. */
  drawing(row) {
    return [...this.items.values()].filter((item) => item.rows.includes(row));
  }

  /** Points of a part in the coordinates of the root: `kind` is "corners" or "outline". */
  points(row, kind) {
    return this.drawing(row).flatMap((item) => {
      const offset = this.slots.get(item.slot).position.z;
      return item[kind](row).map(([x, y, z]) => new Vector3(x, y, z + offset));
    });
  }

  /** The first part that a ray (world coordinates) meets among the items that `isOpen` to it. */
  pick(ray, isOpen) {
    const best = { t: Infinity, row: -1 };
    for (const [slot, group] of this.slots) {
      const open = [...this.items.values()].filter((item) => item.slot === slot && isOpen(item));
      if (!open.length) continue;
      const local = ray.inside(group.matrixWorld);
      for (const item of open) {
        if (!local.meets(item.bounds)) continue;
        const hit = item.pick(local);
        if (hit.t < best.t) Object.assign(best, hit);
      }
    }
    return best;
  }

  /** Pairs of points, in scene coordinates, where a plane cuts the items that `isShown`. */
  cut(plane, isShown) {
    return [...this.items.values()].filter(isShown).flatMap((item) => {
      const { matrixWorld } = this.slots.get(item.slot);
      const local = plane.clone().applyMatrix4(matrixWorld.clone().invert());
      return item.cut(local).map((point) => point.clone().applyMatrix4(matrixWorld));
    });
  }

  /** Parts that touch a part, as rows. */
  neighbours(row) {
    const boxes = this.#partBoxes();
    if (!boxes[row]) return [];
    const near = boxes[row].clone().expandByScalar(TOUCHING);
    return this.parts
      .filter((part) => part.row !== row && !NO_NEIGHBOURS.has(part.kind) && boxes[part.row]?.intersectsBox(near))
      .map((part) => part.row);
  }

  dispose() {
    for (const [name, item] of this.items) this.#remove(name, item);
  }

  #partBoxes() {
    this.boxes ??= this.parts.map(({ row }) => {
      const points = this.drawing(row)
        .flatMap((item) => item.corners(row))
        .map((point) => new Vector3(...point));
      return points.length ? new Box3().setFromPoints(points) : null;
    });
    return this.boxes;
  }

  #slot(slot) {
    if (!this.slots.has(slot)) {
      const group = new Group();
      this.slots.set(slot, group);
      this.root.add(group);
    }
    return this.slots.get(slot);
  }

  #remove(name, item) {
    item.object.removeFromParent();
    item.dispose();
    this.items.delete(name);
  }
}

/** A frame of origin, x and y axis as a matrix. */
export function frameMatrix([ox, oy, oz, ...axes]) {
  const x = new Vector3(axes[0], axes[1], axes[2]);
  const y = new Vector3(axes[3], axes[4], axes[5]);
  return new Matrix4().makeBasis(x, y, x.clone().cross(y)).setPosition(ox, oy, oz);
}
