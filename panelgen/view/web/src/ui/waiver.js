// The form in which a waiver is written: a reason and who decided, both needed.

import { button, h } from "../dom.js";

/** A form for one finding; `send` gets the reason and the name, `close` is called when it is done with. */
export function waiverForm(key, send, close) {
  const field = (name, tag, properties) =>
    h("label", { class: "pg-field" }, h("span", {}, name), h(tag, { required: true, ...properties }));
  const reason = field("Reason", "textarea", { rows: 2, name: "reason", "data-key": `reason ${key}` });
  const name = field("Decided by", "input", {
    type: "text",
    name: "decided_by",
    autocomplete: "off",
    "data-key": `by ${key}`,
  });
  const words = (node) => node.lastChild.value.trim();
  const submit = (event) => {
    event.preventDefault();
    for (const node of [reason, name]) node.lastChild.value = words(node);
    if (!event.target.reportValidity()) return;
    close();
    send(words(reason), words(name));
  };
  return h(
    "form",
    { class: "pg-waiver", "aria-label": "Waive this finding", onsubmit: submit },
    reason,
    name,
    h(
      "div",
      { class: "pg-acts" },
      h("button", { type: "submit", class: "pg-button pg-small" }, "Waive"),
      button("Cancel", "Leave the finding as it is", close, { class: "pg-small" }),
    ),
  );
}
