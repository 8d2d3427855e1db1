// Where panels go when a house is exploded: each away from the middle by the same share of how far it is from there.
//
// Two convex bodies that do not overlap have a plane between them, and moved so they stand farther apart square to that
// plane than before. Up they go farther than aside, which parts storeys first and holds just as well where the plane
// is upright, or where the body above it has the higher middle: so no panel is moved into another.

import { Vector3 } from "three";

const ASIDE = 0.35;
const UP = 1.2;

/** How each box (house coordinates, z up) is moved at a share of the whole way: vectors, in the order of the boxes. */
export function apart(boxes, share) {
  const centres = boxes.map((box) => box.getCenter(new Vector3()));
  const whole = boxes.reduce((all, box) => all.union(box), boxes[0].clone());
  const middle = whole.getCenter(new Vector3()).setZ(whole.min.z);
  const by = new Vector3(ASIDE, ASIDE, UP).multiplyScalar(share);
  return centres.map((centre) => centre.sub(middle).multiply(by));
}
