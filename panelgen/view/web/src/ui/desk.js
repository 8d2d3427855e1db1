// All that stands around and over the canvas, kept in step with the view.

import { h, OWN_KEYS, refill } from "../dom.js";
import { both, partName } from "../words.js";
import { Bar } from "./bar.js";
import { FindingList } from "./findings.js";
import { helpCard } from "./help.js";
import { LayerList } from "./layers.js";
import { PartCard } from "./part.js";
import { Sliders } from "./sliders.js";
import { Spots, findingSigns, measureSigns } from "./spots.js";
import { Tip } from "./tip.js";

export class Desk {
  constructor(root, grid, view, theme) {
    Object.assign(this, { root, view });
    this.canvas = view.stage.canvas;
    this.helping = false;
    this.bar = new Bar({
      open: (label) => view.open(label),
      step: (by) => view.openNext(by),
      look: (name) => view.look(name),
      fit: () => view.fit(),
      ortho: () => view.setOrthographic(!view.orthographic),
      measure: () => view.setMeasuring(!view.measure.active),
      theme: () => theme.flip(),
      help: () => this.#help(),
    });
    this.layers = new LayerList({
      setMode: (layer, mode) => view.setMode(layer, mode),
      peel: () => view.peel(),
      showAll: () => view.showAll(),
    });
    this.sliders = new Sliders({
      setExplode: (share) => view.setExplode(share),
      setStep: (step) => view.setStep(step),
      setSection: (change) => view.setSection(change),
    });
    this.part = new PartCard({ select: (part) => view.select(part), open: (label) => view.open(label) });
    this.findings = new FindingList({
      fly: (key) => view.flyTo(key),
      select: (part) => view.select(part),
      setScope: (only) => view.setScope(only),
    });
    this.spots = new Spots(view.stage);
    this.tip = new Tip(this.canvas);
    this.status = h("div", { class: "pg-status", role: "status" });
    this.card = helpCard();
    this.card.hidden = true;
    this.root.dataset.theme = view.theme;
    Object.entries({ ...OWN_KEYS, tabindex: 0, role: "application", "aria-label": "3D view; press ? for keys" }).forEach(
      ([name, value]) => this.canvas.setAttribute(name, value),
    );
    this.canvas.parentElement.append(
      this.spots.node,
      h("div", { class: "pg-cross" }),
      this.tip.node,
      this.status,
      this.card,
    );
    grid.append(
      this.bar.node,
      h("aside", { class: "pg-left", "aria-label": "What is shown" }, this.layers.node, this.sliders.node),
      h("aside", { class: "pg-right", "aria-label": "Part and findings" }, this.part.node, this.findings.node),
    );
    view.addEventListener("frame", () => this.spots.follow());
    view.addEventListener("content", () => this.content());
    for (const event of ["state", "open", "pick", "finding"]) view.addEventListener(event, () => this.say());
    view.addEventListener("hover", () => this.#status());
    view.addEventListener("help", () => this.#help());
  }

  /** Everything that depends on what there is. */
  content() {
    const { store, house } = this.view;
    this.root.setAttribute("aria-label", `3D view of ${store.house.name}`);
    this.bar.fill(store.house, [...house.panels.keys()]);
    this.findings.settle();
    this.say();
  }

  /** Everything that depends on the state. */
  say() {
    const { view } = this;
    const { house, store, findings, measure } = view;
    if (!store.house) return;
    this.root.dataset.theme = view.theme;
    if (this.shownTheme !== view.theme || this.shownLayers !== store.house.layers) {
      this.layers.fill(store.house.layers, view.theme);
      Object.assign(this, { shownTheme: view.theme, shownLayers: store.house.layers });
    }
    this.layers.say((layer) => house.mode(layer));
    this.sliders.say({ house, section: view.section });
    this.bar.say({
      open: house.open,
      attitude: house.attitude,
      orthographic: view.orthographic,
      measuring: measure.active,
      theme: view.theme,
      helping: this.helping,
    });
    this.part.say(house.selected, (part) => view.neighbours(part), Boolean(house.open));
    this.findings.say(findings, house.involved, house.open, store.house.single);
    const length = measure.result ? both(measure.result.distance) : "";
    this.spots.set([...findingSigns(view.spots), ...measureSigns(measure.points, length)]);
    this.#status();
  }

  #status() {
    const { hover, measure } = this.view;
    this.tip.say(measure.active ? null : hover);
    this.canvas.style.cursor = measure.active ? "crosshair" : hover ? "pointer" : "grab";
    const text = measure.active
      ? measure.words
      : hover
        ? `${hover.panel} · ${partName(hover)}${hover.stock ? ` · ${hover.stock}` : ""}`
        : "";
    refill(this.status, text || null);
    this.status.hidden = !text;
  }

  #help() {
    this.helping = !this.helping;
    this.card.hidden = !this.helping;
    this.say();
  }
}
