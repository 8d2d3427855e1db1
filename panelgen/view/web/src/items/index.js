// From blocks to things in the scene.

import { BoxItem } from "./boxes.js";
import { MeshItem } from "./meshes.js";
import { NailItem } from "./nails.js";
import { TubeItem } from "./tubes.js";

const ITEMS = { boxes: BoxItem, panes: BoxItem, blanks: BoxItem, mesh: MeshItem, bored: MeshItem, tubes: TubeItem, nails: NailItem };

/** The blocks of a head that have a shape. */
export function shapeBlocks(head) {
  return head.blocks.filter((block) => block.kind in ITEMS);
}

/** The item of a block: its three.js `object`, and how to limit, paint, pick and outline its parts. */
export function makeItem(block, buffer, materials) {
  return new ITEMS[block.kind](block, buffer, materials);
}
