// What the pointer and the keys do on the canvas.

import { press } from "./keys.js";

const STILL = 4; // pixels that a click may move

/** Pointer and keys of a view on its canvas; abort the result to stop listening. */
export function listen(canvas, view) {
  const watch = new AbortController();
  const on = (name, act) => canvas.addEventListener(name, act, { signal: watch.signal });
  let down = null;
  let asked = 0;
  on("pointerdown", (event) => {
    down = event;
  });
  on("pointermove", (event) => {
    if (event.buttons || asked || !view.store.house) return;
    asked = requestAnimationFrame(() => {
      asked = 0;
      view.hoverAt(event.clientX, event.clientY);
    });
  });
  on("pointerleave", () => view.leave());
  on("pointerup", (event) => {
    const moved = down && Math.hypot(event.clientX - down.clientX, event.clientY - down.clientY);
    if (down && event.button === 0 && moved <= STILL) view.clickAt(event.clientX, event.clientY);
    down = null;
  });
  on("dblclick", (event) => view.openAt(event.clientX, event.clientY));
  on("keydown", (event) => {
    if (view.store.house && press(view, event)) event.preventDefault();
  });
  return watch;
}
