// The bar on top: where we are, how to get elsewhere, where to look from, tools.

import { Shown, button, h, refill, toggle } from "../dom.js";
import { PRESET_KEYS, presetNames } from "./views.js";

export class Bar {
  constructor(actions) {
    this.actions = actions;
    this.shown = new Shown();
    this.crumbs = h("nav", { class: "pg-crumbs", "aria-label": "House and panel" });
    this.choice = h("select", {
      class: "pg-choice",
      "aria-label": "Open a panel",
      onchange: () => actions.open(this.choice.value || null),
    });
    this.previous = button("‹", "Panel before", () => actions.step(-1), { "aria-label": "Panel before" });
    this.next = button("›", "Next panel", () => actions.step(1), { "aria-label": "Next panel" });
    this.views = new Map(Object.keys(PRESET_KEYS).map((name) => [name, button("", "", () => actions.look(name))]));
    this.ortho = toggle("Parallel", "Parallel projection instead of perspective (O)", actions.ortho);
    this.measure = toggle("Measure", "Measure between two points (M)", actions.measure);
    this.theme = button("Dark", "Light or dark", actions.theme);
    this.help = toggle("?", "Keys", actions.help, { "aria-label": "Keys" });
    this.node = h(
      "header",
      { class: "pg-bar" },
      this.crumbs,
      h("span", { class: "pg-gap" }),
      h("div", { class: "pg-group", role: "group", "aria-label": "Look from" }, ...this.views.values()),
      h("div", { class: "pg-group" }, button("Fit", "Fit to the window (F)", actions.fit), this.ortho),
      h("div", { class: "pg-group" }, this.measure, this.theme, this.help),
    );
  }

  /** The house and its panels. */
  fill(house, labels) {
    if (!this.shown.differs(house.name, house.single, ...labels)) return;
    this.home = button(house.name, "The whole house", () => this.actions.open(null), { class: "pg-home" });
    refill(
      this.choice,
      house.single ? [] : h("option", { value: "" }, "Open a panel…"),
      labels.map((label) => h("option", { value: label }, label)),
    );
    refill(
      this.crumbs,
      house.single
        ? h("strong", {}, house.name)
        : [this.home, h("span", { "aria-hidden": "true" }, "/"), this.choice, this.previous, this.next],
    );
  }

  say({ open, attitude, orthographic, measuring, theme, helping }) {
    this.choice.value = open ?? "";
    this.previous.disabled = this.next.disabled = !open;
    this.home?.setAttribute("aria-current", open ? "false" : "page");
    const names = presetNames(open, attitude);
    for (const [name, node] of this.views) {
      const [word, title] = names[name];
      node.textContent = word;
      node.title = `${title} (${PRESET_KEYS[name]})`;
    }
    this.ortho.setAttribute("aria-pressed", String(orthographic));
    this.measure.setAttribute("aria-pressed", String(measuring));
    this.help.setAttribute("aria-pressed", String(helping));
    this.theme.textContent = theme === "dark" ? "Light" : "Dark";
  }
}
