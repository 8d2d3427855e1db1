// The desk of the workbench: what Python says it is, in native controls; what a person does goes back as messages.
// Every text is put in as text, so nothing in a name can become part of the page.

const NOTHING = "not given";
let desks = 0;

/** An element with attributes, listeners (`onclick`) and children; its keys are its own, not the notebook's. */
function h(tag, attributes = {}, ...children) {
  const node = document.createElement(tag);
  node.setAttribute("data-lm-suppress-shortcuts", "true");
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else if (value === true) node.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) node.setAttribute(name, String(value));
  }
  node.append(...children.filter((child) => child !== null));
  return node;
}

/** Set what a node shows, where it is not shown yet. */
function say(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

/** Fill a <select> and choose; left alone where nothing changed. */
function fill(select, options, value) {
  const known = JSON.stringify(options);
  if (select.dataset.options !== known) {
    select.dataset.options = known;
    select.replaceChildren(...options.map(([key, name]) => h("option", { value: key }, name)));
  }
  select.value = value;
}

/** A control: its label, a field, and for a length a slider. `say` shows a state of it, `send` takes messages. */
class Row {
  constructor(state, name, send) {
    Object.assign(this, { id: state.id, kind: state.kind, send });
    const label = `${name}-label`;
    if (state.kind === "length") {
      this.field = h("input", { id: name, type: "text", autocomplete: "off", spellcheck: "false", class: "pw-text" });
      this.field.addEventListener("change", () => this.#set());
      this.field.addEventListener("keydown", (event) => {
        if (event.key === "Enter") this.#set();
        if (event.key === "Escape") this.field.value = this.text;
      });
      this.slider = h("input", { type: "range", min: 0, step: 1, class: "pw-slider", "aria-labelledby": label });
      this.slider.addEventListener("input", () => this.#slide(true));
      this.slider.addEventListener("change", () => this.#slide(false));
    } else {
      this.field = h("select", { id: name, class: "pw-select" });
      this.field.addEventListener("change", () => this.#set());
    }
    const title = h("label", { for: name, id: label }, state.label);
    this.node = h("div", { class: "pw-row" }, title, this.field, this.slider ?? null);
    Object.assign(this, { text: state.text, asked: null, waiting: false, next: null });
  }

  say(state, busy) {
    this.node.title = state.hint;
    this.field.disabled = busy;
    this.field.setAttribute("aria-description", state.hint);
    if (this.slider) {
      this.slider.disabled = busy;
      this.slider.hidden = !state.steps;
      this.slider.max = state.steps;
      if (!this.held) this.slider.value = state.place;
      this.slider.setAttribute("aria-valuetext", state.text);
      if (document.activeElement !== this.field || this.asked !== null) this.field.value = state.text;
      this.field.placeholder = state.optional ? NOTHING : "";
    } else {
      const options = state.choices.map((choice) => [choice, choice]);
      fill(this.field, state.optional ? [["", NOTHING], ...options] : options, state.text);
    }
    this.text = state.text;
    this.asked = null;
    this.waiting = false;
    if (this.next) this.#ask(this.next);
    this.next = null;
  }

  /** Ask for what the field says, once. */
  #set() {
    const text = this.field.value;
    if (text === this.text || text === this.asked) return;
    this.asked = text;
    this.send({ kind: "set", id: this.id, text });
  }

  /** While the slider is held one question is asked at a time, always the latest. */
  #slide(trying) {
    this.held = trying;
    const message = { kind: "slide", id: this.id, place: Number(this.slider.value), trying };
    if (this.waiting) this.next = message;
    else this.#ask(message);
  }

  #ask(message) {
    this.waiting = true;
    this.send(message);
  }
}

/** The controls of one thing; rows stay as long as the thing and its fields do, so the focus does too. */
class Turn {
  constructor(name, send) {
    Object.assign(this, { name, send, rows: [] });
    const choose = (kind) => (event) => send({ kind, id: event.target.value });
    this.panel = h("select", { id: `${name}-panel`, class: "pw-select", onchange: choose("panel") });
    this.thing = h("select", { id: `${name}-thing`, class: "pw-select", onchange: choose("thing") });
    this.list = h("div", { class: "pw-rows" });
    this.note = h("p", { class: "pw-note" });
    this.node = h(
      "div",
      {},
      h(
        "div",
        { class: "pw-pair" },
        h("div", { class: "pw-row" }, h("label", { for: `${name}-panel` }, "panel"), this.panel),
        h("div", { class: "pw-row" }, h("label", { for: `${name}-thing` }, "what to turn"), this.thing),
      ),
      this.list,
      this.note,
    );
  }

  say(state) {
    const busy = Boolean(state.busy);
    fill(this.panel, state.panels, state.panel);
    fill(this.thing, state.things, state.thing);
    this.panel.disabled = this.thing.disabled = busy;
    const wanted = state.controls.map(({ id, kind, label }) => `${id} ${kind} ${label}`).join("\n");
    if (this.wanted !== wanted) {
      this.wanted = wanted;
      this.rows = state.controls.map((control, place) => new Row(control, `${this.name}-${place}`, this.send));
      this.list.replaceChildren(...this.rows.map(({ node }) => node));
    }
    state.controls.forEach((control, place) => this.rows[place].say(control, busy));
    say(this.note, state.note);
  }
}

/** The figures of the panel, each beside what it was. */
class Figures {
  constructor() {
    this.body = h("tbody");
    const heads = ["figure", "now", "before"].map((name) => h("th", { scope: "col" }, name));
    this.caption = h("caption");
    const table = h("table", {}, this.caption, h("thead", {}, h("tr", {}, ...heads)), this.body);
    this.node = h("div", { class: "pw-figures" }, table);
  }

  say({ figures, panel }) {
    say(this.caption, `Figures of ${panel}`);
    this.body.replaceChildren(
      ...figures.map(([name, now, before]) =>
        h(
          "tr",
          { class: now === before ? null : "pw-changed" },
          h("th", { scope: "row" }, name),
          h("td", {}, now),
          h("td", {}, before),
        ),
      ),
    );
  }
}

/** What the last change brought. */
class News {
  constructor() {
    this.words = h("p", { class: "pw-said" });
    this.list = h("ul", { class: "pw-list" });
    this.problem = h("p", { class: "pw-problem", role: "alert" });
    const live = h("div", { role: "status", "aria-live": "polite" }, this.words, this.list);
    this.node = h("div", { class: "pw-news" }, this.problem, live);
  }

  say({ problem, said, news }) {
    this.problem.hidden = !problem;
    say(this.problem, problem);
    say(this.words, said);
    this.list.replaceChildren(...news.map(([sign, text]) => h("li", { class: `pw-${sign}` }, text)));
  }
}

/** Charts, as SVG from Python. */
class Charts {
  constructor() {
    this.node = h("div");
  }

  say({ charts }) {
    const known = JSON.stringify(charts);
    if (!charts.length || this.known === known) return;
    this.known = known;
    const read = (svg) => document.importNode(new DOMParser().parseFromString(svg, "image/svg+xml").documentElement, true);
    this.node.replaceChildren(
      ...charts.map(([title, svg]) => h("figure", { class: "pw-chart" }, h("figcaption", {}, title), read(svg))),
    );
  }
}

/** Work that takes long, and files. */
class Work {
  constructor(name, send) {
    this.propose = h("button", { type: "button", class: "pw-button", onclick: () => send({ kind: "propose" }) });
    this.propose.textContent = "Look for ways out";
    this.folder = h("input", { id: `${name}-folder`, type: "text", class: "pw-text", spellcheck: "false" });
    this.build = h("button", { type: "button", class: "pw-button" }, "Write models");
    this.build.addEventListener("click", () => send({ kind: "build", folder: this.folder.value }));
    this.counts = h("p", { class: "pw-note" });
    this.node = h(
      "div",
      {},
      h("h3", {}, "Findings that stop"),
      this.counts,
      this.propose,
      h("h3", {}, "Models and reports"),
      h("p", { class: "pw-note" }, "STEP and STL of the panel, findings as text, page, JSON and BCF, in a new folder."),
      h("div", { class: "pw-row" }, h("label", { for: `${name}-folder` }, "folder"), this.folder),
      this.build,
    );
  }

  say({ busy, folder, stops }) {
    say(this.counts, stops);
    this.propose.disabled = this.build.disabled = Boolean(busy);
    if (!this.folder.dataset.told) this.folder.value = folder;
    this.folder.dataset.told = "1";
  }
}

/** Undo, redo, save; and while something is at work, how far it is and a way to end it. */
class Foot {
  constructor(name, send) {
    this.undo = h("button", { type: "button", class: "pw-button", onclick: () => send({ kind: "undo" }) }, "Undo");
    this.redo = h("button", { type: "button", class: "pw-button", onclick: () => send({ kind: "redo" }) }, "Redo");
    this.file = h("input", { id: `${name}-file`, type: "text", class: "pw-text", spellcheck: "false" });
    this.save = h("button", { type: "button", class: "pw-button" }, "Save");
    this.save.addEventListener("click", () => send({ kind: "save", file: this.file.value }));
    this.bar = h("progress", { "aria-label": "progress" });
    this.words = h("span", { class: "pw-grow" });
    this.cancel = h("button", { type: "button", class: "pw-button", onclick: () => send({ kind: "cancel" }) }, "Cancel");
    this.work = h("div", { class: "pw-busy" }, this.words, this.bar, this.cancel);
    this.node = h(
      "div",
      { class: "pw-foot" },
      this.work,
      h("div", { class: "pw-acts" }, h("label", { for: `${name}-file` }, "file"), this.file),
      h("div", { class: "pw-acts" }, this.undo, this.redo, this.save),
    );
  }

  say({ busy, undo, redo, file, saved }) {
    this.undo.disabled = Boolean(busy) || !undo;
    this.redo.disabled = Boolean(busy) || !redo;
    this.undo.title = undo ? `Take back: ${undo}` : "";
    this.redo.title = redo ? `Do again: ${redo}` : "";
    this.save.disabled = Boolean(busy);
    say(this.save, saved ? "Saved" : "Save");
    if (!this.file.dataset.told) this.file.value = file;
    this.file.dataset.told = "1";
    this.work.hidden = !busy;
    if (!busy) return;
    say(this.words, busy.words);
    this.bar.max = Math.max(busy.total, 1);
    if (busy.done) this.bar.value = busy.done;
    else this.bar.removeAttribute("value");
  }
}

/** Three pages behind tabs: what to turn, charts, work. */
class Tabs {
  constructor(name, pages, send) {
    this.pages = pages;
    this.tabs = Object.keys(pages).map((key) =>
      h(
        "button",
        {
          type: "button",
          role: "tab",
          id: `${name}-tab-${key}`,
          "aria-controls": `${name}-page-${key}`,
          onclick: () => send({ kind: "tab", id: key }),
          onkeydown: (event) => this.#key(event),
        },
        key,
      ),
    );
    this.bodies = Object.entries(pages).map(([key, { node }]) =>
      h("div", { role: "tabpanel", id: `${name}-page-${key}`, "aria-labelledby": `${name}-tab-${key}`, tabindex: 0 }, node),
    );
    const list = h("div", { role: "tablist", class: "pw-tabs", "aria-label": "Workbench" }, ...this.tabs);
    this.node = h("div", { class: "pw-body" }, list, ...this.bodies);
  }

  say(state) {
    Object.keys(this.pages).forEach((key, place) => {
      const isShown = key === state.tab;
      this.tabs[place].setAttribute("aria-selected", String(isShown));
      this.tabs[place].tabIndex = isShown ? 0 : -1;
      this.bodies[place].hidden = !isShown;
      this.pages[key].say(state);
    });
  }

  #key(event) {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!step) return;
    const tabs = this.tabs;
    const next = tabs[(tabs.indexOf(event.target) + step + tabs.length) % tabs.length];
    next.focus();
    next.click();
  }
}

function render({ model, el }) {
  desks += 1;
  const name = `pw-${desks}`;
  const send = (message) => model.send(message);
  const turn = new Turn(name, send);
  const figures = new Figures();
  const news = new News();
  const charts = new Charts();
  const work = new Work(name, send);
  const foot = new Foot(name, send);
  const tabs = new Tabs(name, { Turn: turn, Charts: charts, Work: work }, send);
  const root = h(
    "section",
    { class: "pw", "aria-label": "Workbench" },
    tabs.node,
    figures.node,
    news.node,
    foot.node,
  );
  el.append(root);
  const show = () => {
    const state = model.get("state");
    root.dataset.theme = state.theme;
    root.style.height = `${state.height}px`;
    root.setAttribute("aria-busy", String(Boolean(state.busy)));
    for (const part of [tabs, figures, news, foot]) part.say(state);
  };
  show();
  model.on("change:state", show);
  return () => model.off("change:state", show);
}

export default { render };
