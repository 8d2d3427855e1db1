// A distance between two picked points, which snap to corners near the pointer.

import { Outline, scenePoints } from "./outlines.js";
import { both } from "./words.js";

const SNAP = 12; // pixels

export class Measure {
  constructor(stage, house) {
    this.stage = stage;
    this.house = house;
    this.line = new Outline(stage, "#d55e00", 2.5);
    this.active = false;
    this.points = [];
  }

  setActive(on) {
    this.active = on;
    this.clear();
  }

  clear() {
    this.points = [];
    this.line.set([]);
  }

  /** Take a picked point; a third one starts anew. */
  add(hit, clientX, clientY) {
    if (this.points.length === 2) this.points = [];
    this.points.push(this.#snapped(hit, clientX, clientY));
    this.line.set(this.points.length === 2 ? this.points : []);
  }

  /** The distance and its shares along, up and through, mm; null with fewer than two points. */
  get result() {
    if (this.points.length < 2) return null;
    const [a, b] = this.points;
    const way = this.house.attitude.toPanel(b.clone().sub(a));
    return { distance: way.length(), along: Math.abs(way.x), up: Math.abs(way.y), through: Math.abs(way.z) };
  }

  get words() {
    const { result } = this;
    if (!result) return this.points.length ? "Pick the second point." : "Pick the first point; corners snap.";
    const up = this.house.attitude.isFlat ? "across" : "up";
    return `${both(result.distance)}: along ${both(result.along)}, ${up} ${both(result.up)}, through ${both(result.through)}`;
  }

  #snapped(hit, clientX, clientY) {
    const box = this.stage.canvas.getBoundingClientRect();
    let best = hit.point;
    let least = SNAP;
    for (const corner of scenePoints(hit.panel, hit.part.row, "corners")) {
      const seen = this.stage.onScreen(corner);
      if (!seen) continue;
      const away = Math.hypot(seen[0] - (clientX - box.left), seen[1] - (clientY - box.top));
      if (away < least) [least, best] = [away, corner];
    }
    return best.clone();
  }
}
