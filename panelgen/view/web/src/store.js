// What the view holds: heads and buffers, kept up to date by messages. See payload.py and blocks.py for the format.

const FORMAT = 1;
const utf8 = new TextDecoder();

/** Heads of the house and its panels, and the buffers that they name. */
export class Store {
  constructor() {
    this.house = null;
    this.panels = new Map();
    this.buffers = new Map();
  }

  /** Take a message in; returns the labels of panels that are new or changed. */
  apply(head, buffers) {
    if (head.format !== FORMAT) throw new Error(`this view reads format ${FORMAT}, not ${head.format}`);
    head.keys.forEach((key, place) => this.buffers.set(key, aligned(buffers[place])));
    if (head.house) this.house = head.house;
    const changed = new Map(head.panels.map((panel) => [panel.label, panel]));
    const order = head.order ?? [...this.panels.keys()];
    this.panels = new Map(order.map((label) => [label, changed.get(label) ?? this.panels.get(label)]));
    this.#forget();
    return [...changed.keys()];
  }

  /** The content of the one block of a kind, as JSON. */
  table(head, kind) {
    return JSON.parse(utf8.decode(this.buffers.get(head.blocks.find((block) => block.kind === kind).key)));
  }

  #forget() {
    const heads = [this.house, ...this.panels.values()];
    const used = new Set(heads.flatMap((head) => head.blocks.map((block) => block.key)));
    for (const key of this.buffers.keys()) if (!used.has(key)) this.buffers.delete(key);
  }
}

/** An ArrayBuffer of its own, so that numbers lie on four-byte borders. */
function aligned(data) {
  if (data instanceof ArrayBuffer) return data;
  return data.buffer.slice(data.byteOffset, data.byteOffset + data.byteLength);
}

/** The parts of a panel as objects, in the order in which they are built in. */
export function readParts(table, label) {
  return table.rows.map(([id, mark, kind, what, layer, stock, sizes, mass, why, of, count], row) => {
    const [rule, words, source] = table.whys[why];
    const text = (place) => table.words[place];
    return {
      row,
      panel: label,
      id,
      mark,
      kind: text(kind),
      what: text(what),
      layer: text(layer),
      stock: text(stock),
      sizes,
      mass,
      why: { rule, words, source },
      of,
      count,
    };
  });
}

/** Bytes from base64. */
export function fromBase64(text) {
  const letters = atob(text);
  const bytes = new Uint8Array(letters.length);
  for (let k = 0; k < bytes.length; k++) bytes[k] = letters.charCodeAt(k);
  return bytes.buffer;
}
