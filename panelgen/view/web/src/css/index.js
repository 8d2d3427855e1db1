// The style of the page, one sheet for each part of it; the last is for where there is little room.

import bar from "./bar.css";
import findings from "./findings.css";
import narrow from "./narrow.css";
import page from "./page.css";
import part from "./part.css";
import sides from "./sides.css";
import stage from "./stage.css";

export default [page, bar, sides, stage, part, findings, narrow].join("\n");
