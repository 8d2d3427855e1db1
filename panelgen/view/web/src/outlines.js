// Strong outlines drawn over everything: what is picked, hovered, part of a finding, or measured.

import { Vector3 } from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";

const LAST = 1000;

/** One set of outlines of a colour and width (pixels). */
export class Outline {
  constructor(stage, colour, width) {
    this.stage = stage;
    this.material = new LineMaterial({
      color: colour,
      linewidth: width,
      depthTest: false,
      depthWrite: false,
      transparent: true,
    });
    this.lines = null;
  }

  setColour(colour) {
    this.material.color.set(colour);
  }

  /** Draw pairs of points, in scene coordinates; none to clear. */
  set(points) {
    this.lines?.removeFromParent();
    this.lines?.geometry.dispose();
    this.lines = null;
    if (points.length) {
      const geometry = new LineSegmentsGeometry().setPositions(points.flatMap((point) => point.toArray()));
      this.lines = new LineSegments2(geometry, this.material);
      this.lines.renderOrder = LAST;
      this.lines.frustumCulled = false;
      this.stage.overlay.add(this.lines);
    }
    this.stage.invalidate();
  }

  /** Outline parts of panels where they stand now. */
  setParts(house, parts) {
    this.set(parts.flatMap((part) => scenePoints(house.panels.get(part.panel), part.row, "outline")));
  }

  dispose() {
    this.set([]);
    this.material.dispose();
  }
}

/** Corners or outline of a part in scene coordinates; nothing where the panel is not in view. */
export function scenePoints(panel, row, kind) {
  if (!panel?.root.visible) return [];
  panel.root.updateWorldMatrix(true, false);
  return panel.points(row, kind).map((point) => new Vector3().copy(point).applyMatrix4(panel.root.matrixWorld));
}
