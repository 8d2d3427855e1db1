// Small helpers to build the page. Text goes in as text nodes and attributes, never as markup.

const SVG = "http://www.w3.org/2000/svg";

/** The mark that a notebook looks for on the focused element, before it takes arrows and letters for its cells. */
export const OWN_KEYS = { "data-lm-suppress-shortcuts": "true" };

/** An element with properties (`class`, `on…` handlers, `aria-…`, any attribute) and children: nodes or text. */
export function h(tag, properties = {}, ...children) {
  return filled(document.createElement(tag), { ...OWN_KEYS, ...properties }, children);
}

/** The same for SVG elements. */
export function svg(tag, properties = {}, ...children) {
  return filled(document.createElementNS(SVG, tag), properties, children);
}

function filled(node, properties, children) {
  for (const [name, value] of Object.entries(properties)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else node.setAttribute(name, value === true ? "" : String(value));
  }
  node.append(...children.flat().filter((child) => child !== null && child !== undefined));
  return node;
}

/** Replace all children. */
export function refill(node, ...children) {
  node.replaceChildren(...children.flat().filter((child) => child !== null && child !== undefined));
}

/** Do something that makes the children of `node` anew, and give the focus back to the one with the same `data-key`. */
export function keepingFocus(node, act) {
  const { activeElement } = node.getRootNode();
  const key = node.contains(activeElement) ? activeElement.dataset.key : undefined;
  act();
  if (key !== undefined && !node.contains(node.getRootNode().activeElement))
    [...node.querySelectorAll("[data-key]")].find(({ dataset }) => dataset.key === key)?.focus({ preventScroll: true });
}

/** Scroll `within`, and nothing that it stands in, so that `node` shows. */
export function reveal(node, within) {
  const [inner, outer] = [node, within].map((one) => one.getBoundingClientRect());
  if (inner.top < outer.top || inner.height > outer.height) within.scrollTop += inner.top - outer.top;
  else within.scrollTop += Math.max(0, inner.bottom - outer.bottom);
}

/** Remembers what was last shown, so that nothing is made anew, or read out again, where it is the same. */
export class Shown {
  #last = [];

  /** Whether any of these differs from the last time. */
  differs(...now) {
    const isNew = now.length !== this.#last.length || now.some((value, place) => value !== this.#last[place]);
    this.#last = now;
    return isNew;
  }
}

/** A button that says whether it is pressed. */
export function toggle(label, title, onclick, properties = {}) {
  const { class: more = "", ...rest } = properties;
  return h(
    "button",
    { type: "button", class: `pg-button ${more}`, title, "aria-pressed": "false", onclick, ...rest },
    label,
  );
}

/** A plain button. */
export function button(label, title, onclick, properties = {}) {
  const { class: more = "", ...rest } = properties;
  return h("button", { type: "button", class: `pg-button ${more}`, title, onclick, ...rest }, label);
}

/** A range input with its label; `oninput` gets the number, and `say` takes the value in words. */
export function slider(label, properties, oninput) {
  const input = h("input", {
    type: "range",
    "aria-label": label,
    ...properties,
    oninput: () => oninput(Number(input.value)),
  });
  const said = h("output", { class: "pg-said", "aria-live": "off" });
  const row = h("label", { class: "pg-slider" }, h("span", {}, label), input, said);
  const say = (words) => {
    said.textContent = words;
    input.setAttribute("aria-valuetext", words);
  };
  return { row, input, say };
}
