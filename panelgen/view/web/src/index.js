// What the bundle offers: `mount` for any page, `render` for a notebook, and a start where a standalone page asks.

import { startPage } from "./page.js";

export { mount } from "./mount.js";
export { render } from "./widget.js";

startPage(document);
