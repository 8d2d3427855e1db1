// The findings, worst first; a click goes to the spot.

import { button, h, refill, svg } from "../dom.js";
import { partName, quantity } from "../words.js";

const ORDER = { stop: 0, warn: 1, note: 2 };
const NAMES = { stop: "Stop", warn: "Warn", note: "Note" };
const SIGNS = {
  stop: ["M5 1h6l4 4v6l-4 4H5l-4-4V5z", "M8 4v5M8 11.2v.8"],
  warn: ["M8 1.5 15.2 14.5H.8z", "M8 6v4M8 12v.8"],
  note: ["M8 1a7 7 0 1 0 .01 0z", "M8 4.2v.8M8 7.2v4.6"],
};

/** The sign of a severity: an octagon, a triangle or a disc. */
export function sign(severity, more = "") {
  const [shape, mark] = SIGNS[severity];
  return svg(
    "svg",
    { viewBox: "0 0 16 16", class: `pg-sign pg-${severity} ${more}`, "aria-hidden": "true" },
    svg("path", { d: shape }),
    svg("path", { d: mark, class: "pg-sign-mark" }),
  );
}

/** All findings of a house in the order of the list: worst first, then by panel; waived ones last. */
export function sorted(panels, own) {
  const all = [
    ...own.map((finding) => ({ ...finding, panel: "" })),
    ...panels.flatMap((panel) => panel.findings.map((finding) => ({ ...finding, panel: panel.label }))),
  ];
  const rank = (finding) => ORDER[finding.severity] + (finding.waived ? 10 : 0);
  return all
    .map((finding, place) => [rank(finding), place, finding])
    .sort((a, b) => a[0] - b[0] || a[1] - b[1])
    .map(([, , finding]) => finding);
}

export class FindingList {
  constructor({ fly, select, setScope }) {
    this.fly = fly;
    this.select = select;
    this.count = h("span", { class: "pg-count" });
    this.only = h("input", { type: "checkbox", onchange: () => setScope(this.only.checked) });
    this.scope = h("label", { class: "pg-scope" }, this.only, "this panel");
    this.list = h("ol", { class: "pg-findings" });
    this.node = h(
      "section",
      { class: "pg-section pg-grow", "aria-label": "Findings" },
      h("div", { class: "pg-head" }, h("h2", {}, "Findings"), this.count, this.scope),
      this.list,
    );
  }

  /** Show findings: each is [place in all, finding]; `chosen` is the place flown to, `parts` what it names. */
  say(entries, chosen, parts, open, onlyHere) {
    this.count.textContent = String(entries.length);
    this.scope.style.display = open ? "" : "none";
    this.only.checked = onlyHere;
    refill(
      this.list,
      entries.length
        ? entries.map(([place, finding]) => this.#row(place, finding, place === chosen, parts))
        : h("li", { class: "pg-note" }, "No findings."),
    );
    this.list.querySelector("[aria-current=true]")?.scrollIntoView({ block: "nearest" });
  }

  #row(place, finding, isChosen, parts) {
    const limit = finding.limit === null ? "" : `, limit ${quantity(finding.limit, finding.unit)}`;
    const measured = finding.value === null ? "" : `Measured ${quantity(finding.value, finding.unit)}${limit}.`;
    return h(
      "li",
      {},
      h(
        "button",
        {
          type: "button",
          class: "pg-finding",
          "aria-current": String(isChosen),
          onclick: () => this.fly(place),
        },
        sign(finding.severity, finding.waived ? "pg-waived" : ""),
        h(
          "span",
          { class: "pg-what" },
          h(
            "span",
            { class: "pg-title" },
            h("strong", {}, finding.panel || "House"),
            ` ${NAMES[finding.severity]} `,
            h("code", {}, finding.code),
          ),
          h("span", { class: "pg-words" }, finding.words),
          isChosen && measured ? h("span", { class: "pg-note" }, measured) : null,
          isChosen && finding.source ? h("span", { class: "pg-note" }, finding.source) : null,
          finding.waived ? h("span", { class: "pg-note" }, `Waived: ${finding.waived}`) : null,
        ),
      ),
      isChosen && parts.length
        ? h(
            "div",
            { class: "pg-chips pg-involved" },
            parts.map((part) =>
              button(part.mark || part.id, `Pick ${partName(part)}`, () => this.select(part), {
                class: "pg-small pg-chip",
              }),
            ),
          )
        : null,
    );
  }
}
