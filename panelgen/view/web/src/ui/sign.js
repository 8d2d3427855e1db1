// The sign of a severity: an octagon, a triangle or a disc, so that colour is never alone in telling them apart.

import { svg } from "../dom.js";

const SIGNS = {
  stop: ["M5 1h6l4 4v6l-4 4H5l-4-4V5z", "M8 4v5M8 11.2v.8"],
  warn: ["M8 1.5 15.2 14.5H.8z", "M8 6v4M8 12v.8"],
  note: ["M8 1a7 7 0 1 0 .01 0z", "M8 4.2v.8M8 7.2v4.6"],
};

/** What a severity is called. */
export const SEVERITIES = { stop: "Stop", warn: "Warn", note: "Note" };

/** The sign, as SVG. */
export function sign(severity, more = "") {
  const [shape, mark] = SIGNS[severity];
  return svg(
    "svg",
    { viewBox: "0 0 16 16", class: `pg-sign pg-${severity} ${more}`, "aria-hidden": "true" },
    svg("path", { d: shape }),
    svg("path", { d: mark, class: "pg-sign-mark" }),
  );
}
