// The keys, on a card over the canvas.

import { h } from "../dom.js";

const KEYS = [
  ["Drag, wheel", "turn, come nearer"],
  ["Right drag", "slide"],
  ["Arrows", "turn; with Shift: slide"],
  ["+ −", "nearer, farther"],
  ["1 – 5", "weather, room, top, end, iso"],
  ["F", "fit"],
  ["O", "parallel or perspective"],
  ["P, Shift+P", "peel a layer; all back"],
  ["G", "ghosts: all layers but the framing"],
  ["E", "explode or put together"],
  ["X", "next section plane"],
  ["[ ]", "build order back, on"],
  [", .", "part before, next part"],
  ["N, Shift+N", "next finding, finding before"],
  ["M", "measure"],
  ["Space", "pick what is under the cross in the middle"],
  ["Enter", "open the panel of the picked part"],
  ["Esc", "clear, then back to the house"],
];

/** The card. */
export function helpCard() {
  return h(
    "div",
    { class: "pg-help", role: "note", "aria-label": "Keys" },
    h(
      "dl",
      {},
      KEYS.flatMap(([key, words]) => [h("dt", {}, key), h("dd", {}, words)]),
    ),
  );
}
