// The findings of all that is shown, under their causes, and the one that is flown to.

export class Findings {
  constructor() {
    this.causes = [];
    this.byKey = new Map();
    this.chosen = "";
    this.onlyHere = true;
  }

  /** Take up findings of the house (`own`), of its panels, and the causes that name them by key. */
  update(own, panels, causes) {
    const all = [
      ...own.map((finding) => ({ ...finding, panel: "" })),
      ...panels.flatMap((panel) => panel.findings.map((finding) => ({ ...finding, panel: panel.label }))),
    ];
    const told = new Map(all.map((finding) => [finding.key, finding]));
    this.causes = causes.map(({ keys, ...cause }) => ({ ...cause, findings: keys.map((key) => told.get(key)) }));
    this.byKey = new Map(this.causes.flatMap(({ findings }) => findings.map((finding) => [finding.key, finding])));
    if (!this.byKey.has(this.chosen)) this.chosen = "";
  }

  get(key) {
    return this.byKey.get(key);
  }

  /** The causes with their findings to list where `open` is the label of the open panel, or null. */
  listed(open) {
    const isHere = ({ panel }) => !open || !this.onlyHere || panel === open;
    return this.causes
      .map((cause) => ({ ...cause, findings: cause.findings.filter(isHere) }))
      .filter(({ findings }) => findings.length);
  }

  /** The key of the finding before or after the chosen one in the list; undefined where there is none. */
  beside(by, open) {
    const keys = this.listed(open).flatMap(({ findings }) => findings.map(({ key }) => key));
    const at = keys.indexOf(this.chosen);
    return keys[at < 0 ? (by > 0 ? 0 : keys.length - 1) : (at + by + keys.length) % keys.length];
  }
}
