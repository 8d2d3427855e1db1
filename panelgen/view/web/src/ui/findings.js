// The findings under their causes, worst first; a click goes to the spot, and a host that can act is asked to.

import { Shown, button, h, keepingFocus, refill, reveal } from "../dom.js";
import { findingRow } from "./finding.js";
import { SEVERITIES, sign } from "./sign.js";
import { waiverForm } from "./waiver.js";

export class FindingList {
  constructor({ fly, select, setScope }) {
    Object.assign(this, { fly, select });
    this.act = null;
    this.unfolded = new Set();
    this.sent = new Set();
    this.waiving = null;
    this.causes = [];
    this.shown = new Shown();
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

  /** Set what takes a message to the host, or null where the host cannot act. */
  setAct(act) {
    this.act = act;
    this.#fill();
  }

  /** New content has come: what was asked for is done or refused. */
  settle() {
    this.sent.clear();
  }

  /** Show what is to be listed of the findings where a panel is open, or none; `parts` are those of the chosen one. */
  say(findings, parts, open, isSingle) {
    const { causes, chosen, onlyHere } = findings;
    if (!this.shown.differs(causes, parts, chosen, onlyHere, open)) return;
    if (this.chosen !== chosen) this.waiving = null;
    Object.assign(this, { causes: findings.listed(open), chosen, parts });
    const total = this.causes.reduce((sum, cause) => sum + cause.findings.length, 0);
    this.count.textContent = String(total);
    this.scope.style.display = open && !isSingle ? "" : "none";
    this.only.checked = onlyHere;
    this.#fill();
    const row = this.list.querySelector("[aria-current=true]");
    if (row) reveal(row.parentElement, this.list);
  }

  #fill() {
    const rows = this.causes.map((cause) => this.#cause(cause));
    keepingFocus(this.list, () =>
      refill(this.list, rows.length ? rows : h("li", { class: "pg-note" }, "No findings.")),
    );
  }

  /** A cause: its one finding, or how many there are and, unfolded, each of them. */
  #cause(cause) {
    const { findings } = cause;
    if (findings.length === 1) return this.#row(findings[0]);
    const name = `${cause.family} ${cause.words} ${cause.waived}`;
    const isOpen = this.unfolded.has(name) || findings.some(({ key }) => key === this.chosen);
    const flip = () => {
      if (isOpen) this.unfolded.delete(name);
      else this.unfolded.add(name);
      if (isOpen && findings.some(({ key }) => key === this.chosen)) this.fly("");
      else this.#fill();
    };
    const { severity } = findings[0];
    return h(
      "li",
      {},
      h(
        "button",
        { type: "button", class: "pg-cause", "aria-expanded": String(isOpen), "data-key": name, onclick: flip },
        sign(severity, cause.waived ? "pg-waived" : ""),
        h("strong", { class: "pg-words" }, cause.words),
        h("span", { class: "pg-note" }, ` ${SEVERITIES[severity]}, ${findings.length} findings`),
      ),
      isOpen ? h("ol", { class: "pg-findings" }, ...findings.map((finding) => this.#row(finding))) : null,
    );
  }

  #row(finding) {
    const isChosen = finding.key === this.chosen;
    const { fly, select, parts } = this;
    return findingRow(finding, isChosen, { fly, select, parts, acts: isChosen ? this.#acts(finding) : null });
  }

  /** What a person can do about a finding, where the host can do it. */
  #acts({ key, proposal, waived }) {
    if (!this.act) return null;
    if (this.sent.has(key)) return h("p", { class: "pg-note", role: "status" }, "Asked for; waiting for the answer.");
    if (this.waiving?.key === key) return this.waiving.form;
    const apply = () => this.#send({ kind: "apply", finding: key });
    return h(
      "div",
      { class: "pg-acts" },
      proposal?.ready ? button("Apply", `Apply: ${proposal.words}`, apply, { class: "pg-small" }) : null,
      waived ? null : button("Waive…", "Accept it, with a reason", () => this.#waive(key), { class: "pg-small" }),
    );
  }

  #waive(key) {
    const send = (reason, by) => this.#send({ kind: "waive", finding: key, reason, decided_by: by });
    const close = () => {
      this.waiving = null;
      this.#fill();
    };
    this.waiving = { key, form: waiverForm(key, send, close) };
    this.#fill();
    this.waiving.form.querySelector("textarea").focus({ preventScroll: true });
    reveal(this.waiving.form, this.list);
  }

  #send(message) {
    this.sent.add(message.finding);
    this.#fill();
    this.act(message);
  }
}
