// The whole view in an element of a page.

import { h } from "./dom.js";
import { listen } from "./pointer.js";
import css from "./css/index.js";
import { Theme } from "./theme.js";
import { Desk } from "./ui/desk.js";
import { View } from "./view.js";

/**
 * Put a view into `el`. What a host may say: `theme` ("light", "dark", "auto"), `animate`, `bare` (the picture alone),
 * and `act`, a function that takes {kind: "apply", finding} and {kind: "waive", finding, reason, decided_by}: findings
 * have buttons for these only where there is one.
 * Returns a controller: `update(head, buffers)`, `setTheme`, `setAct`, the `view` with its verbs and events, `theme`
 * as chosen, `state`, `dispose()`.
 */
export function mount(el, host = {}) {
  const place = h("div", { class: "pg-stage" });
  const grid = h("div", { class: "pg-grid" }, place);
  const root = h(
    "div",
    { class: `pg${host.bare ? " pg-bare" : ""}`, role: "region", "aria-label": "3D view" },
    h("style", {}, css),
    grid,
  );
  el.append(root);
  const theme = new Theme(host.theme ?? "auto", () => view.setTheme(theme.shown));
  const view = viewIn(place, { theme: theme.shown, animate: host.animate });
  const { canvas } = view.stage;
  const desk = new Desk(root, grid, view, theme);
  desk.findings.setAct(host.act ?? null);
  const watch = listen(canvas, view);
  return {
    view,
    update: (head, buffers) => view.update(head, buffers),
    setTheme: (choice) => theme.choose(choice),
    setAct: (act) => desk.findings.setAct(act),
    get theme() {
      return theme.choice;
    },
    get state() {
      return view.state;
    },
    dispose() {
      watch.abort();
      theme.dispose();
      view.dispose();
      root.remove();
    },
  };
}

/** A view in `place`; where the browser has no WebGL, that is said there before the error goes on. */
function viewIn(place, options) {
  try {
    return new View(place, options);
  } catch (error) {
    place.append(h("p", { class: "pg-help", role: "alert" }, "This browser cannot draw in 3D: WebGL 2 is missing."));
    throw error;
  }
}
