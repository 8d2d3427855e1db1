// Signs over the canvas at the spots of findings, in step with the camera.

import { Vector3 } from "three";
import { h, refill } from "../dom.js";
import { sign } from "./findings.js";

const MOST = 150;

export class Spots {
  constructor(stage) {
    this.stage = stage;
    this.node = h("div", { class: "pg-spots", "aria-hidden": "true" });
    this.signs = [];
  }

  /** Show [finding, point in scene coordinates, whether it is chosen]. */
  set(spots) {
    this.signs = spots.slice(0, MOST).map(([finding, point, isChosen]) => {
      const node = h("div", { class: `pg-spot${isChosen ? " pg-chosen" : ""}` }, sign(finding.severity));
      return { node, point };
    });
    refill(
      this.node,
      this.signs.map(({ node }) => node),
    );
    this.follow();
  }

  /** Put the signs where their spots are now. */
  follow() {
    for (const { node, point } of this.signs) {
      const seen = this.stage.onScreen(point);
      node.style.display = seen ? "" : "none";
      if (seen) node.style.transform = `translate(${seen[0].toFixed(1)}px, ${seen[1].toFixed(1)}px)`;
    }
  }
}

/** The spot of a finding in scene coordinates; null where it has none or its panel is not in view. */
export function spotOf(finding, house) {
  if (!finding.point) return null;
  const point = new Vector3(...finding.point);
  if (!finding.panel) return house.open ? null : point.applyMatrix4(house.stage.root.matrix);
  const panel = house.panels.get(finding.panel);
  return panel?.root.visible ? point.applyMatrix4(panel.root.matrixWorld) : null;
}
