// Explode, build order and section.

import { button, h, slider, toggle } from "../dom.js";
import { both, partName } from "../words.js";

const AXES = [
  ["off", "Off"],
  ["length", "Along"],
  ["height", "Up"],
  ["depth", "Through"],
];
const AXIS_TITLES = {
  off: "No section",
  length: "Cut across the length",
  height: "Cut level, or across the width of what lies flat",
  depth: "Cut parallel to the face",
};

export class Sliders {
  constructor({ setExplode, setStep, setSection }) {
    this.explode = slider("Explode", { min: 0, max: 1, step: 0.02, value: 0 }, setExplode);
    this.order = slider("Build order", { min: 0, max: 1, step: 1, value: 1 }, setStep);
    this.cut = slider("Section", { min: 0, max: 1, step: 0.005, value: 0.5 }, (share) => setSection({ share }));
    this.axes = new Map(
      AXES.map(([axis, name]) => [
        axis,
        toggle(name, AXIS_TITLES[axis], () => setSection({ axis }), { class: "pg-small" }),
      ]),
    );
    this.flip = button("Flip", "Show the other side of the section", () => setSection({ flip: true }), {
      class: "pg-small",
    });
    this.step = h("p", { class: "pg-note", "aria-live": "polite" });
    this.node = h(
      "section",
      { class: "pg-section", "aria-label": "Take apart" },
      h("div", { class: "pg-head" }, h("h2", {}, "Take apart")),
      this.explode.row,
      this.order.row,
      this.step,
      h(
        "div",
        { class: "pg-axes", role: "group", "aria-label": "Section plane" },
        h("span", {}, "Section"),
        ...this.axes.values(),
      ),
      h("div", { class: "pg-cut" }, this.cut.row, this.flip),
    );
  }

  say({ house, section }) {
    const { steps, explode } = house;
    const step = Math.min(house.step, steps);
    this.explode.input.value = explode;
    this.explode.say(`${Math.round(explode * 100)} %`);
    Object.assign(this.order.input, { max: steps, value: step });
    this.order.say(`${step} of ${steps}`);
    this.step.textContent = this.#stepWords(house, step, steps);
    for (const [axis, node] of this.axes) node.setAttribute("aria-pressed", String(section.axis === axis));
    this.axes.get("height").textContent = house.attitude.isFlat ? "Across" : "Up";
    const isOff = section.axis === "off";
    this.cut.input.disabled = this.flip.disabled = isOff;
    this.cut.input.value = section.share;
    this.cut.say(isOff ? "" : both(section.position));
  }

  #stepWords(house, step, steps) {
    if (step >= steps || step === 0) return "";
    const last = house.open ? partName(house.openPanel.parts[step - 1]) : [...house.panels.keys()][step - 1];
    return `Last in: ${last}`;
  }
}
