// The adapter for a standalone page: the message lies in the page itself, its buffers in base64.

import { mount } from "./mount.js";
import { fromBase64 } from "./store.js";

/** Mount a view where the page has a place for one. */
export function startPage(document) {
  const place = document.getElementById("panelgen-page");
  if (!place) return;
  const { head, buffers, options } = JSON.parse(document.getElementById("panelgen-message").textContent);
  const controller = mount(place, options);
  controller.update(head, buffers.map(fromBase64));
  if (options.explode) controller.view.setExplode(options.explode);
  if (options.bare) controller.view.stage.freeze();
  place.controller = controller;
}
