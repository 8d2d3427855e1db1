// The legend: one row a layer, with its colour and shape, to show, hide or make a ghost.

import { button, h, refill, svg, toggle } from "../dom.js";
import { cssColour } from "../colours.js";

const SHAPES = {
  framing: (fill) => [
    box(fill),
    svg("path", { d: "M3 13 13 3M8 15 15 8M1 9 9 1", stroke: "#0007", "stroke-width": 1.3 }),
  ],
  strapping: (fill) => [bar(fill, 2, 5), bar(fill, 9, 5)],
  services: (fill) => [svg("path", { d: "M2 11H9V3h5", fill: "none", stroke: fill, "stroke-width": 4 })],
  "windows and doors": (fill) => [
    svg("rect", { x: 2.5, y: 2.5, width: 11, height: 11, fill: "none", stroke: fill, "stroke-width": 2.5 }),
    svg("path", { d: "M8 2v12", stroke: fill, "stroke-width": 1.5 }),
  ],
  "nails and screws": (fill) =>
    [
      [4, 4],
      [12, 4],
      [8, 8],
      [4, 12],
      [12, 12],
    ].map(([cx, cy]) => svg("circle", { cx, cy, r: 1.6, fill })),
  hardware: (fill) => [svg("rect", { x: 4.5, y: 4.5, width: 7, height: 7, fill })],
  "supplied trusses": (fill) => [
    svg("path", { d: "M1.5 13h13L8 3.5z", fill: "none", stroke: fill, "stroke-width": 2.5 }),
  ],
  insulation: (fill) => [
    box(fill),
    svg("path", { d: "M1 5q3.5-4 7 0t7 0M1 11q3.5-4 7 0t7 0", fill: "none", stroke: "#0007" }),
  ],
};

const box = (fill) => svg("rect", { x: 1, y: 1, width: 14, height: 14, rx: 1.5, fill });
const bar = (fill, y, height) => svg("rect", { x: 1, y, width: 14, height, rx: 1, fill });

export class LayerList {
  constructor({ setMode, peel, showAll }) {
    this.setMode = setMode;
    this.list = h("ul", { class: "pg-layers" });
    this.node = h(
      "section",
      { class: "pg-section", "aria-label": "Layers" },
      h(
        "div",
        { class: "pg-head" },
        h("h2", {}, "Layers"),
        button("Peel", "Hide the outermost layer in view (P)", peel, { class: "pg-small" }),
        button("All", "Show every layer (Shift+P)", showAll, { class: "pg-small" }),
      ),
      this.list,
    );
    this.rows = new Map();
  }

  /** Make the rows anew for the layers that there are. */
  fill(layers, theme) {
    this.rows.clear();
    refill(
      this.list,
      layers.map((layer) => {
        const check = h("input", {
          type: "checkbox",
          onchange: () => this.setMode(layer.name, check.checked ? "shown" : "hidden"),
        });
        const ghost = toggle(
          "Ghost",
          `Make ${layer.name} transparent`,
          () => this.setMode(layer.name, ghost.getAttribute("aria-pressed") === "true" ? "shown" : "ghost"),
          { class: "pg-small pg-ghost", "aria-label": `Ghost ${layer.name}` },
        );
        this.rows.set(layer.name, { check, ghost });
        const fill = cssColour(layer, theme);
        const shape = (SHAPES[layer.name] ?? ((colour) => [box(colour)]))(fill);
        return h(
          "li",
          {},
          h(
            "label",
            {},
            check,
            svg("svg", { viewBox: "0 0 16 16", class: "pg-swatch", "aria-hidden": "true" }, ...shape),
            h("span", {}, layer.name),
          ),
          ghost,
        );
      }),
    );
  }

  /** Say which mode each layer is in. */
  say(modeOf) {
    for (const [name, { check, ghost }] of this.rows) {
      const mode = modeOf(name);
      check.checked = mode !== "hidden";
      ghost.setAttribute("aria-pressed", String(mode === "ghost"));
    }
  }
}
