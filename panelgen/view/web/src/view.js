// The view: state, and the verbs that change it. The page around the canvas only calls these and shows the result.

import { Box3, Vector3 } from "three";
import { Findings } from "./findings.js";
import { HouseScene } from "./house.js";
import { Measure } from "./measure.js";
import { Outline, scenePoints } from "./outlines.js";
import { Section } from "./section.js";
import { Stage } from "./stage.js";
import { stateOf } from "./state.js";
import { Store } from "./store.js";
import { THEMES } from "./colours.js";
import { spotOf } from "./ui/spots.js";

const CLOSE = 900; // mm around the spot of a finding
/** Where the camera stands, seen from what it looks at, along, up and through. */
const PRESETS = { weather: [0, 0, 1], room: [0, 0, -1], top: [0, 1, 0], end: [1, 0, 0] };
const CORNER = [0.62, 0.5, 1];
const SECTIONS = ["off", "length", "height", "depth"];

export class View extends EventTarget {
  constructor(place, options) {
    super();
    this.store = new Store();
    this.stage = new Stage(place, { animate: options.animate, onframe: () => this.#tell("frame") });
    this.house = new HouseScene(this.stage, this.store);
    this.section = new Section(this.stage, this.house);
    this.measure = new Measure(this.stage, this.house);
    this.picked = new Outline(this.stage, "#111418", 3);
    this.hovered = new Outline(this.stage, "#5b6470", 1.5);
    this.marked = new Outline(this.stage, "#d55e00", 3);
    this.hover = null;
    this.orthographic = false;
    this.findings = new Findings();
    this.setTheme(options.theme ?? "light");
  }

  /** Take a message in; the first one also looks at everything. */
  update(head, buffers) {
    const isFirst = !this.store.house;
    const kept = this.house.selected?.id;
    const changed = this.store.apply(head, buffers);
    const made = this.house.update(changed);
    const table = (kind) => this.store.table(this.store.house, kind);
    this.findings.update(table("findings"), [...this.house.panels.values()], table("causes"));
    this.#light();
    this.hover = null;
    this.house.selected = kept ? (this.house.find(kept)[0] ?? null) : null;
    this.house.recolour();
    this.house.show();
    this.section.apply();
    this.#outline();
    if (isFirst) this.look("iso", true);
    this.made = made;
    this.#tell("content");
  }

  setTheme(theme) {
    this.theme = theme;
    this.house.setTheme(theme);
    this.picked.setColour(THEMES[theme].pick);
    this.hovered.setColour(THEMES[theme].hover);
    this.#tell("state");
  }

  open(label) {
    if (this.store.house.single || label === this.house.open || (label && !this.house.panels.has(label))) return;
    this.house.open = label;
    this.house.step = Infinity;
    this.#clearFinding();
    if (this.house.selected && this.house.selected.panel !== label) this.house.selected = null;
    this.hover = null;
    this.measure.clear();
    this.house.recolour();
    this.#shown();
    this.look("iso", true);
    this.#tell("open");
  }

  /** Open the panel before or after the open one. */
  openNext(by) {
    const labels = [...this.house.panels.keys()];
    const place = labels.indexOf(this.house.open);
    this.open(labels[(place + by + labels.length) % labels.length]);
  }

  openSelected() {
    if (this.house.selected) this.open(this.house.selected.panel);
  }

  /** Look from the side of a preset, or from the corner. */
  look(preset, now = false) {
    const along = PRESETS[preset];
    this.stage.look(along ? this.house.attitude.toScene(...along).toArray() : CORNER, this.house.bounds(), now);
  }

  fit() {
    this.stage.look(this.stage.direction, this.house.bounds());
  }

  setOrthographic(on) {
    this.orthographic = on;
    this.stage.setProjection(on);
    this.#tell("state");
  }

  setMode(layer, mode) {
    this.house.setMode(layer, mode);
    this.#shown();
  }

  /** Names of the layers that are hidden by choice. */
  get hidden() {
    return [...this.house.modes].filter(([, mode]) => mode === "hidden").map(([layer]) => layer);
  }

  /** Hide these layers and no others; ghosts stay ghosts. */
  setHidden(layers) {
    if (layers.join() === this.hidden.join()) return;
    const wanted = new Set(layers);
    for (const [layer, mode] of this.house.modes)
      this.house.modes.set(layer, wanted.has(layer) ? "hidden" : mode === "hidden" ? "shown" : mode);
    this.#shown();
  }

  /** Hide the outermost layer that is not hidden: of a panel from the side the camera is on, of a house from outside. */
  peel() {
    const isOutside = !this.house.open || this.house.attitude.toPanel(new Vector3(...this.stage.direction)).z >= 0;
    const layer = this.house.outermost(isOutside);
    if (layer) this.setMode(layer, "hidden");
  }

  showAll() {
    this.house.spotlight = null;
    for (const { name, shown } of this.store.house.layers) this.house.modes.set(name, shown ? "shown" : "hidden");
    this.#shown();
  }

  /** Make ghosts of all shown layers but the framing, or bring them back. */
  ghosts() {
    this.house.spotlight = null;
    const isOn = [...this.house.modes.values()].includes("ghost");
    for (const [layer, mode] of this.house.modes) {
      if (isOn && mode === "ghost") this.house.modes.set(layer, "shown");
      if (!isOn && mode === "shown" && layer !== "framing") this.house.modes.set(layer, "ghost");
    }
    this.#shown();
  }

  setExplode(share) {
    this.house.explode = share;
    this.measure.clear();
    this.#shown();
    if (!this.stage.sees(this.house.bounds())) this.fit();
  }

  get step() {
    return Math.min(this.house.step, this.house.steps);
  }

  setStep(step) {
    this.house.step = step >= this.house.steps ? Infinity : step;
    this.#shown();
  }

  setSection({ flip, ...changes }) {
    this.section.set(flip ? { flipped: !this.section.flipped } : changes);
    this.#unhover();
    this.#tell("state");
  }

  nextSection() {
    this.setSection({ axis: SECTIONS[(SECTIONS.indexOf(this.section.axis) + 1) % SECTIONS.length] });
  }

  setMeasuring(on) {
    this.measure.setActive(on);
    this.#tell("state");
  }

  /** Pick a part, or nothing; one that is not in the open panel opens its own. */
  select(part) {
    if (part && this.house.open && part.panel !== this.house.open) this.open(part.panel);
    this.house.selected = part;
    this.house.recolour();
    this.#outline();
    this.#tell("pick");
  }

  /** Pick the part before or after the picked one in the open panel, in build order. */
  selectNext(by) {
    const panel = this.house.openPanel ?? this.house.panels.get(this.house.selected?.panel) ?? this.house.inView[0];
    const count = panel?.parts.length ?? 0;
    if (!count) return;
    const place = this.house.selected?.panel === panel.label ? this.house.selected.row + by : by > 0 ? 0 : count - 1;
    this.select(panel.parts[(place + count) % count]);
  }

  hit(clientX, clientY) {
    return this.house.pick(this.stage.ray(clientX, clientY, this.section.plane));
  }

  /** The pointer has left. */
  leave() {
    this.#unhover();
    this.#tell("hover");
  }

  hoverAt(clientX, clientY) {
    const part = this.hit(clientX, clientY)?.part ?? null;
    if (part === this.hover) return;
    this.hover = part;
    this.hovered.setParts(this.house, part && part !== this.house.selected ? [part] : []);
    this.#tell("hover");
  }

  clickAt(clientX, clientY) {
    const hit = this.hit(clientX, clientY);
    if (!this.measure.active) return this.select(hit?.part ?? null);
    if (hit) this.measure.add(hit, clientX, clientY);
    return this.#tell("state");
  }

  /** Pick, or measure from, what is in the middle of the picture: for those who have no pointer. */
  clickMiddle() {
    const { left, top, width, height } = this.stage.canvas.getBoundingClientRect();
    this.clickAt(left + width / 2, top + height / 2);
  }

  openAt(clientX, clientY) {
    const hit = this.hit(clientX, clientY);
    if (hit && !this.house.open && !this.measure.active) this.open(hit.panel.label);
  }

  neighbours(part) {
    const panel = this.house.panels.get(part.panel);
    return panel.neighbours(part.row).map((row) => panel.parts[row]);
  }

  setScope(onlyHere) {
    this.findings.onlyHere = onlyHere;
    this.#tell("state");
  }

  /** Go to a finding by its key: open its panel, light up its parts, and come near. Without one, leave the last. */
  flyTo(key) {
    const finding = this.findings.get(key);
    if (!finding) return this.leaveFinding();
    if (finding.panel && finding.panel !== this.house.open) this.open(finding.panel);
    this.findings.chosen = key;
    this.house.selected = null;
    this.#light();
    this.house.step = Infinity;
    this.house.recolour();
    this.#shown();
    const spot = spotOf(finding, this.house);
    if (spot) {
      if (this.section.plane?.distanceToPoint(spot) < 0) this.section.set({ axis: "off" });
      const around = new Box3().setFromCenterAndSize(spot, new Vector3(CLOSE, CLOSE, CLOSE));
      const openings = this.house.involved.filter((part) => part.kind === "opening");
      for (const part of openings)
        around.union(new Box3().setFromPoints(scenePoints(this.house.panels.get(part.panel), part.row, "corners")));
      this.stage.look(this.stage.direction, around);
    } else this.fit();
    this.#tell("finding");
  }

  /** Leave the finding flown to. */
  leaveFinding() {
    if (!this.findings.chosen) return;
    this.#clearFinding();
    this.house.recolour();
    this.#shown();
    this.#tell("finding");
  }

  nextFinding(by) {
    this.flyTo(this.findings.beside(by, this.house.open));
  }

  /** One step back: measuring, finding, pick, then to the house. */
  back() {
    if (this.measure.active) this.setMeasuring(false);
    else if (this.findings.chosen) this.leaveFinding();
    else if (this.house.selected) this.select(null);
    else this.open(null);
  }

  /** The spots to mark: [finding, point, whether chosen]. */
  get spots() {
    return [...this.findings.byKey.values()]
      .filter((finding) => !finding.waived || finding.key === this.findings.chosen)
      .map((finding) => [finding, spotOf(finding, this.house), finding.key === this.findings.chosen])
      .filter(([, point]) => point && !(this.section.plane?.distanceToPoint(point) < 0));
  }

  /** The state as plain values, for other programs. */
  get state() {
    return stateOf(this);
  }

  dispose() {
    for (const outline of [this.picked, this.hovered, this.marked, this.measure.line]) outline.dispose();
    this.section.dispose();
    this.house.dispose();
    this.stage.dispose();
  }

  #clearFinding() {
    this.findings.chosen = "";
    this.#light();
  }

  /** Light up the parts of the finding flown to, if any. */
  #light() {
    const finding = this.findings.get(this.findings.chosen);
    this.house.involved = finding ? finding.parts.flatMap((id) => this.house.find(id, finding.panel || null)) : [];
    const layers = this.house.involved.map((part) => part.layer);
    this.house.spotlight = layers.length ? new Set(layers) : null;
  }

  #shown() {
    this.house.show();
    this.section.apply();
    this.#outline();
    this.#tell("state");
  }

  #unhover() {
    this.hover = null;
    this.hovered.set([]);
  }

  #outline() {
    this.#unhover();
    this.picked.setParts(this.house, this.house.selected ? [this.house.selected] : []);
    this.marked.setParts(this.house, this.house.involved);
  }

  #tell(what) {
    this.dispatchEvent(new CustomEvent(what));
  }
}
