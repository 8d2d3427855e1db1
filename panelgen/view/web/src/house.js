// All panels in the scene, and what of them is shown: open panel, layers, build order, explode, highlights.

import { Box3, Color, Matrix4 } from "three";
import { apart } from "./apart.js";
import { Attitude } from "./attitude.js";
import { LayerMaterials } from "./materials.js";
import { PanelScene, frameMatrix } from "./panel.js";
import { layerColour, THEMES } from "./colours.js";

const HATCHED = new Set(["framing", "strapping"]);
const SMALL = new Set(["nails and screws", "hardware"]);
const OUTLINED = new Set(["opening", "sheet"]); // so large that, filled, they would hide what they meet
const SOFT = 0.45;
/** House axes (z up) to the scene's (y up, z toward the front). */
const STAND = new Matrix4().makeRotationX(-Math.PI / 2);
const FIRST_ORDER = -1000;
const GAP = 260; // mm between neighbouring layers when fully exploded

export class HouseScene {
  constructor(stage, store) {
    this.stage = stage;
    this.store = store;
    this.panels = new Map();
    this.materials = new Map();
    this.modes = new Map();
    this.open = null;
    this.spotlight = null;
    this.step = Infinity;
    this.explode = 0;
    this.selected = null;
    this.involved = [];
    this.cutting = false;
    this.attitude = new Attitude();
  }

  /** Take up what the store now holds. Returns how many items were made. */
  update(changed) {
    for (const layer of this.store.house.layers) {
      if (this.materials.has(layer.name)) continue;
      this.materials.set(layer.name, new LayerMaterials(this.stage.shared, HATCHED.has(layer.name)));
      this.modes.set(layer.name, layer.shown ? "shown" : "hidden");
    }
    for (const [label, panel] of this.panels) if (!this.store.panels.has(label)) this.#remove(label, panel);
    let made = 0;
    for (const label of changed) {
      if (!this.panels.has(label)) {
        const panel = new PanelScene();
        this.panels.set(label, panel);
        this.stage.root.add(panel.root);
      }
      made += this.panels.get(label).update(this.store.panels.get(label), this.store, this.materials);
    }
    this.panels = new Map([...this.store.panels.keys()].map((label) => [label, this.panels.get(label)]));
    if (this.open && !this.panels.has(this.open)) this.open = null;
    if (this.store.house.single) [this.open] = this.panels.keys();
    this.capOrder = new Map(this.store.house.layers.map((layer, place) => [layer.name, FIRST_ORDER + 2 * place]));
    this.recolour();
    this.show();
    return made;
  }

  get openPanel() {
    return this.open ? this.panels.get(this.open) : null;
  }

  /** The panels in view, in build order. */
  get inView() {
    const all = [...this.panels.values()];
    return this.open ? [this.openPanel] : all.slice(0, this.step);
  }

  /** How many steps the build order has here. */
  get steps() {
    return this.open ? this.openPanel.parts.length : this.panels.size;
  }

  mode(layer) {
    const mode = this.modes.get(layer);
    if (!this.spotlight) return mode;
    if (this.spotlight.has(layer)) return "shown";
    return mode === "hidden" || SMALL.has(layer) ? "hidden" : "ghost";
  }

  /** Set the mode of a layer; what a spotlight shows becomes what was chosen. */
  setMode(layer, mode) {
    if (this.spotlight) {
      this.modes = new Map([...this.modes.keys()].map((name) => [name, this.mode(name)]));
      this.spotlight = null;
    }
    this.modes.set(layer, mode);
  }

  /** The first layer not hidden from the weather side inward, or from the room outward; undefined where there is none. */
  outermost(isOutside) {
    const items = this.inView.flatMap((panel) => [...panel.items.values()]);
    const slots = new Map();
    for (const { layer, slot } of items) {
      const depth = isOutside ? -slot : slot;
      if (this.mode(layer) !== "hidden") slots.set(layer, Math.min(slots.get(layer) ?? Infinity, depth));
    }
    const order = [...this.modes.keys()].filter((layer) => slots.has(layer));
    return order.sort((a, b) => slots.get(a) - slots.get(b))[0];
  }

  /** Bring visibility, places and limits in line with the state. */
  show() {
    const { root } = this.stage;
    const frame = this.openPanel?.head.frame;
    this.attitude = new Attitude(frame);
    root.matrix.copy(frame ? this.attitude.turn.clone().multiply(frameMatrix(frame).invert()) : STAND);
    root.matrixWorldNeedsUpdate = true;
    const seen = new Set(this.inView);
    this.#takeApart();
    for (const [name, materials] of this.materials) {
      materials.setGhost(this.mode(name) === "ghost");
    }
    for (const panel of this.panels.values()) {
      panel.root.visible = seen.has(panel);
      for (const item of panel.items.values()) {
        const mode = this.mode(item.layer);
        item.object.visible = mode !== "hidden";
        item.setLimit(this.open ? this.step : Infinity);
        if (seen.has(panel)) item.setNear?.(Boolean(this.open));
        for (const twin of item.twins) {
          twin.visible = this.cutting && mode === "shown";
          twin.renderOrder = this.capOrder.get(item.layer);
        }
      }
    }
    root.updateMatrixWorld(true);
    const bounds = this.bounds();
    if (!bounds.isEmpty()) this.stage.bounds = bounds;
    this.stage.invalidate();
  }

  /** The least box around all that is in view, in scene coordinates. */
  bounds() {
    const box = new Box3();
    for (const panel of this.inView) box.union(panel.bounds((item) => this.mode(item.layer) !== "hidden"));
    return box.isEmpty() ? box : box.applyMatrix4(this.stage.root.matrix);
  }

  setTheme(theme) {
    this.theme = theme;
    this.stage.setSky(THEMES[theme].sky);
    this.recolour();
  }

  /** Colour everything by layer, and what is picked or involved by what it is. */
  recolour() {
    if (!this.store.house || !this.theme) return;
    const [r, g, b] = this.store.house.mark;
    const mark = new Color(`rgb(${r},${g},${b})`);
    const colours = new Map(this.store.house.layers.map((layer) => [layer.name, layerColour(layer, this.theme)]));
    for (const [name, materials] of this.materials) materials.setColours(colours.get(name), THEMES[this.theme].edge);
    for (const panel of this.panels.values()) {
      const picked = this.selected?.panel === panel.label ? this.selected.row : -1;
      const inHere = this.involved.filter((part) => part.panel === panel.label && !OUTLINED.has(part.kind));
      const involved = new Set(inHere.map((part) => part.row));
      for (const item of panel.items.values()) {
        const plain = item.kind === "panes" ? new Color(THEMES[this.theme].glass) : colours.get(item.layer);
        const light = plain.clone().lerp(new Color("#ffffff"), SOFT);
        const marked = item.rows.filter((row) => row === picked || involved.has(row));
        const painted = `${this.theme} ${picked} ${marked}`;
        if (item.painted === painted || (item.painted === `${this.theme}` && !marked.length)) continue;
        item.painted = marked.length ? painted : `${this.theme}`;
        item.paint((row) => (row === picked ? light : involved.has(row) ? mark : plain));
      }
    }
    this.stage.invalidate();
  }

  /** The part nearest along a ray, as {part, panel, point}; null where there is none. Ghosts let the ray through. */
  pick(ray) {
    let best = null;
    for (const panel of this.inView) {
      const hit = panel.pick(ray, (item) => this.mode(item.layer) === "shown");
      if (hit.row >= 0 && (!best || hit.t < best.t)) best = { ...hit, panel };
    }
    return best && { part: best.panel.parts[best.row], panel: best.panel, point: ray.at(best.t) };
  }

  /** A part by its id: in the open panel first, then anywhere. A run's id finds all of its parts. */
  find(id, label = this.open) {
    const panels = label ? [this.panels.get(label), ...this.panels.values()] : [...this.panels.values()];
    for (const panel of panels) {
      const found = panel?.parts.filter((part) => part.id === id || part.of === id);
      if (found?.length) return found;
    }
    return [];
  }

  dispose() {
    for (const [label, panel] of this.panels) this.#remove(label, panel);
    for (const materials of this.materials.values()) materials.dispose();
  }

  /** An open panel comes apart in layers, a house in panels. */
  #takeApart() {
    const all = [...this.panels.values()];
    const ways = this.open || !all.length ? [] : apart(all.map((panel) => panel.whole), this.explode);
    all.forEach((panel, place) => {
      panel.move(ways[place]);
      panel.explode(this.open ? this.explode * GAP : 0);
    });
  }

  #remove(label, panel) {
    panel.dispose();
    panel.root.removeFromParent();
    this.panels.delete(label);
  }
}
