// One finding: what is wrong and where and, where it is flown to, what was measured, what is involved and what to do.

import { button, h } from "../dom.js";
import { partName, quantity } from "../words.js";
import { SEVERITIES, sign } from "./sign.js";

/** The row; `parts` are those involved, `acts` the buttons to act on it. Only a chosen one shows them. */
export function findingRow(finding, isChosen, { fly, select, parts, acts }) {
  return h(
    "li",
    {},
    h(
      "button",
      {
        type: "button",
        class: "pg-finding",
        "aria-current": String(isChosen),
        "data-key": finding.key,
        onclick: () => fly(finding.key),
      },
      sign(finding.severity, finding.waived ? "pg-waived" : ""),
      h(
        "span",
        { class: "pg-what" },
        h(
          "span",
          { class: "pg-title" },
          h("strong", {}, finding.panel || "House"),
          ` ${SEVERITIES[finding.severity]} `,
          h("code", {}, finding.code),
        ),
        h("span", { class: "pg-words" }, finding.words),
        ...(isChosen ? details(finding) : []),
        finding.waived ? h("span", { class: "pg-note" }, `Waived: ${finding.waived}`) : null,
      ),
    ),
    isChosen
      ? h(
          "div",
          { class: "pg-involved" },
          parts.length ? h("div", { class: "pg-chips" }, ...parts.map((part) => chip(part, select))) : null,
          finding.proposal ? h("p", {}, h("strong", {}, "Way out: "), finding.proposal.words) : null,
          acts,
        )
      : null,
  );
}

function details({ value, limit, unit, source }) {
  const allowed = limit === null ? "" : `, limit ${quantity(limit, unit)}`;
  const lines = [value === null ? "" : `Measured ${quantity(value, unit)}${allowed}.`, source];
  return lines.filter(Boolean).map((line) => h("span", { class: "pg-note" }, line));
}

function chip(part, select) {
  return button(part.mark || part.id, `Pick ${partName(part)}`, () => select(part), { class: "pg-small pg-chip" });
}
