// The mark of what is under the pointer, beside it. Who has no pointer reads the same in the part card.

import { h } from "../dom.js";

const ASIDE = 14; // pixels from the pointer

export class Tip {
  constructor(canvas) {
    this.node = h("div", { class: "pg-tip", "aria-hidden": "true" });
    this.node.hidden = true;
    canvas.addEventListener("pointermove", (event) => this.#follow(canvas, event));
  }

  /** Show the mark of a part, or nothing. */
  say(part) {
    this.node.textContent = part ? part.mark || part.id : "";
    this.node.hidden = !part;
  }

  /** Stand right of the pointer and below it, and on its other side where there is no room. */
  #follow(canvas, { clientX, clientY, buttons }) {
    const box = canvas.getBoundingClientRect();
    const { offsetWidth: wide, offsetHeight: high } = this.node;
    const [x, y] = [clientX - box.left, clientY - box.top];
    const left = x + ASIDE + wide > box.width ? x - ASIDE - wide : x + ASIDE;
    const top = y + ASIDE + high > box.height ? y - ASIDE - high : y + ASIDE;
    this.node.style.transform = `translate(${left}px, ${top}px)`;
    if (buttons) this.node.hidden = true;
  }
}
