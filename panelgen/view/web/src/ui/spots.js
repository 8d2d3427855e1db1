// Signs and labels over the canvas at points of the scene, in step with the camera.

import { Vector3 } from "three";
import { h, refill } from "../dom.js";
import { sign } from "./sign.js";

const MOST = 150;

export class Spots {
  constructor(stage) {
    this.stage = stage;
    this.node = h("div", { class: "pg-spots", "aria-hidden": "true" });
    this.signs = [];
  }

  /** Show [node, point in scene coordinates]. */
  set(signs) {
    this.signs = signs.map(([node, point]) => ({ node: h("div", { class: "pg-spot" }, node), point }));
    refill(
      this.node,
      this.signs.map(({ node }) => node),
    );
    this.follow();
  }

  /** Put the signs where their points are now. */
  follow() {
    for (const { node, point } of this.signs) {
      const seen = this.stage.onScreen(point);
      node.style.display = seen ? "" : "none";
      if (seen) node.style.transform = `translate(${seen[0].toFixed(1)}px, ${seen[1].toFixed(1)}px)`;
    }
  }
}

/** The signs of findings: of [finding, point, whether it is chosen]. */
export function findingSigns(spots) {
  return spots
    .slice(0, MOST)
    .map(([finding, point, isChosen]) => [isChosen ? h("span", { class: "pg-ring" }) : sign(finding.severity), point]);
}

/** The ends of what is measured, and its length in the middle: of its picked points and the length in words. */
export function measureSigns(points, words) {
  const ends = points.map((point) => [h("span", { class: "pg-end" }), point]);
  if (points.length < 2) return ends;
  return [...ends, [h("span", { class: "pg-length" }, words), points[0].clone().lerp(points[1], 0.5)]];
}

/** The spot of a finding in scene coordinates; null where it has none or its panel is not in view. */
export function spotOf(finding, house) {
  if (!finding.point) return null;
  const point = new Vector3(...finding.point);
  if (!finding.panel) return house.open ? null : point.applyMatrix4(house.stage.root.matrix);
  const panel = house.panels.get(finding.panel);
  return panel?.root.visible ? point.applyMatrix4(panel.root.matrixWorld) : null;
}
