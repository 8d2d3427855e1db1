// What is picked: what it is, its size and weight, why it is there and what it touches.

import { Shown, button, h, refill } from "../dom.js";
import { mass, partName, sizes } from "../words.js";

const MOST = 14;
/** [name, text] of where a part belongs and what it is of, by kind. */
const TOLD = {
  truss: (part) => [
    ["Row", part.of],
    ["Bears on", part.stock],
  ],
};
const told = (part) => [
  ["Panel", part.panel],
  part.mark && ["Id", part.id],
  part.stock && ["Stock", part.stock],
  part.of && ["Run", part.of],
];

export class PartCard {
  constructor({ select, open }) {
    this.select = select;
    this.open = open;
    this.shown = new Shown();
    this.node = h("section", {
      class: "pg-section pg-part",
      "aria-label": "Picked part",
      "aria-live": "polite",
      tabindex: -1,
    });
  }

  /** Show a part, with its neighbours as `findNeighbours` finds them, or how to pick one. */
  say(part, findNeighbours, isOpen) {
    if (!this.shown.differs(part, isOpen)) return;
    const hadFocus = this.node.contains(this.node.getRootNode().activeElement);
    this.#fill(part, part ? findNeighbours(part) : [], isOpen);
    if (hadFocus) this.node.focus({ preventScroll: true });
  }

  #fill(part, neighbours, isOpen) {
    if (!part) {
      refill(
        this.node,
        h("div", { class: "pg-head" }, h("h2", {}, "Part")),
        h(
          "p",
          { class: "pg-note" },
          isOpen
            ? "Click a part to see what it is and why it is there."
            : "Click a part to see what it is. Double-click a panel to open it.",
        ),
      );
      return;
    }
    const rows = [
      ...(TOLD[part.kind] ?? told)(part),
      part.count > 1 && ["Count", String(part.count)],
      ...sizes(part).map(([name, text]) => [name[0].toUpperCase() + name.slice(1), text]),
      part.mass !== null && ["Weight", mass(part.mass)],
    ].filter(Boolean);
    refill(
      this.node,
      h(
        "div",
        { class: "pg-head" },
        h("h2", {}, partName(part)),
        isOpen
          ? null
          : button("Open", `Open ${part.panel}`, () => this.open(part.panel), { class: "pg-small" }),
        button("×", "Clear", () => this.select(null), { class: "pg-small", "aria-label": "Clear" }),
      ),
      h(
        "dl",
        {},
        rows.flatMap(([name, text]) => [h("dt", {}, name), h("dd", {}, text)]),
      ),
      h("h3", {}, "Why it is there"),
      h("p", { class: "pg-why" }, part.why.words),
      h("p", { class: "pg-note" }, `${part.why.source} · ${part.why.rule}`),
      neighbours.length ? h("h3", {}, "Touches") : null,
      h(
        "div",
        { class: "pg-chips" },
        neighbours
          .slice(0, MOST)
          .map((other) =>
            button(other.mark || other.id, partName(other), () => this.select(other), { class: "pg-small pg-chip" }),
          ),
        neighbours.length > MOST ? h("span", { class: "pg-note" }, `and ${neighbours.length - MOST} more`) : null,
      ),
    );
  }
}
