// Which theme is shown: the one chosen, or the one of the person's system.

export class Theme {
  /** `choice` is light, dark or auto; `onchange` is called when another theme is to be shown. */
  constructor(choice, onchange) {
    this.choice = choice;
    this.onchange = onchange;
    this.system = matchMedia("(prefers-color-scheme: dark)");
    this.watch = new AbortController();
    this.system.addEventListener("change", () => this.onchange(), { signal: this.watch.signal });
  }

  /** Light or dark. */
  get shown() {
    if (this.choice !== "auto") return this.choice;
    return this.system.matches ? "dark" : "light";
  }

  choose(choice) {
    if (choice === this.choice) return;
    this.choice = choice;
    this.onchange();
  }

  /** The other of light and dark. */
  flip() {
    this.choose(this.shown === "dark" ? "light" : "dark");
  }

  dispose() {
    this.watch.abort();
  }
}
