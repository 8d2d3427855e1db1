// From blocks to things in the scene.

import { readBored, readBoxes, readMeshes, readNails, readTubes } from "../blocks.js";
import { BoredItem } from "./bored.js";
import { BoxItem } from "./boxes.js";
import { MeshItem } from "./meshes.js";
import { NailItem } from "./nails.js";
import { TubeItem } from "./tubes.js";

const ITEMS = {
  boxes: [BoxItem, readBoxes],
  panes: [BoxItem, readBoxes],
  bored: [BoredItem, readBored],
  mesh: [MeshItem, readMeshes],
  tubes: [TubeItem, readTubes],
  nails: [NailItem, readNails],
};

/** The blocks of a head that have a shape. */
export function shapeBlocks(head) {
  return head.blocks.filter((block) => block.kind in ITEMS);
}

/** The item of a block: its three.js `object`, and how to limit, paint, pick, cut and outline its parts. */
export function makeItem(block, buffer, materials) {
  const [Item, read] = ITEMS[block.kind];
  return new Item(block, read(buffer), materials);
}
