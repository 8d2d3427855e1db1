// The whole view in an element of a page: canvas, legend, controls, part and findings.

import { h, refill } from "./dom.js";
import { press } from "./keys.js";
import css from "./style.css";
import { Bar } from "./ui/bar.js";
import { FindingList } from "./ui/findings.js";
import { helpCard } from "./ui/help.js";
import { LayerList } from "./ui/layers.js";
import { PartCard } from "./ui/part.js";
import { Sliders } from "./ui/sliders.js";
import { Spots } from "./ui/spots.js";
import { partName } from "./words.js";
import { View } from "./view.js";

const STILL = 4; // pixels that a click may move

/**
 * Put a view into `el`. Options: `theme` ("light", "dark", "auto"), `animate`, `bare` (the picture alone).
 * Returns a controller: `update(head, buffers)`, the `view` with its verbs and events, `state`, `dispose()`.
 */
export function mount(el, options = {}) {
  const dark = matchMedia("(prefers-color-scheme: dark)").matches;
  const theme = !options.theme || options.theme === "auto" ? (dark ? "dark" : "light") : options.theme;
  const place = h("div", { class: "pg-stage" });
  const root = h(
    "div",
    { class: `pg${options.bare ? " pg-bare" : ""}`, role: "region", "aria-label": "3D view" },
    h("style", {}, css),
  );
  const grid = h("div", { class: "pg-grid" }, place);
  root.append(grid);
  el.append(root);
  const view = new View(place, { theme, animate: options.animate });
  const { canvas } = view.stage;
  const page = new Page(root, grid, canvas, view);
  const watch = listen(canvas, view);
  page.theme();
  return {
    view,
    update: (head, buffers) => view.update(head, buffers),
    get state() {
      return view.state;
    },
    dispose() {
      watch.abort();
      view.dispose();
      root.remove();
    },
  };
}

/** The parts of the page, kept in step with the view. */
class Page {
  constructor(root, grid, canvas, view) {
    Object.assign(this, { root, canvas, view });
    this.helping = false;
    this.bar = new Bar({
      open: (label) => view.open(label),
      step: (by) => view.openNext(by),
      look: (name) => view.look(name),
      fit: () => view.fit(),
      ortho: () => view.setOrthographic(!view.orthographic),
      measure: () => view.setMeasuring(!view.measure.active),
      theme: () => view.setTheme(view.theme === "dark" ? "light" : "dark"),
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
      fly: (at) => view.flyTo(at),
      select: (part) => view.select(part),
      setScope: (only) => view.setScope(only),
    });
    this.spots = new Spots(view.stage);
    this.status = h("div", { class: "pg-status", role: "status" });
    this.card = helpCard();
    this.card.hidden = true;
    Object.entries({ tabindex: 0, role: "application", "aria-label": "3D view; press ? for keys" }).forEach(
      ([name, value]) => canvas.setAttribute(name, value),
    );
    canvas.parentElement.append(this.spots.node, this.status, this.card);
    grid.append(
      this.bar.node,
      h("aside", { class: "pg-left", "aria-label": "What is shown" }, this.layers.node, this.sliders.node),
      h("aside", { class: "pg-right", "aria-label": "Part and findings" }, this.part.node, this.findings.node),
    );
    view.addEventListener("frame", () => this.spots.follow());
    view.addEventListener("content", () => this.content());
    for (const event of ["state", "open", "pick", "finding"]) view.addEventListener(event, () => this.say());
    view.addEventListener("hover", () => this.#status());
  }

  theme() {
    this.root.dataset.theme = this.view.theme;
  }

  /** Everything that depends on what there is. */
  content() {
    const { store, house } = this.view;
    this.root.setAttribute("aria-label", `3D view of ${store.house.name}`);
    this.bar.fill(store.house, [...house.panels.keys()]);
    this.say();
  }

  /** Everything that depends on the state. */
  say() {
    const { view } = this;
    const { house, store } = view;
    if (!store.house) return;
    this.theme();
    if (this.shownTheme !== view.theme || this.shownLayers !== store.house.layers) {
      this.layers.fill(store.house.layers, view.theme);
      Object.assign(this, { shownTheme: view.theme, shownLayers: store.house.layers });
    }
    this.layers.say((layer) => house.mode(layer));
    this.sliders.say({ house, section: view.section, explode: view.explode });
    this.bar.say({
      open: house.open,
      orthographic: view.orthographic,
      measuring: view.measure.active,
      theme: view.theme,
      helping: this.helping,
    });
    this.part.say(house.selected, house.selected ? view.neighbours(house.selected) : [], Boolean(house.open));
    this.findings.say(view.listed, view.chosen, house.involved, house.open && !store.house.single, view.onlyHere);
    this.spots.set(view.spots);
    this.#status();
  }

  #status() {
    const { view } = this;
    const { hover, measure } = view;
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

/** Pointer and keys on the canvas; abort the result to stop listening. */
function listen(canvas, view) {
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
