"""The notebook adapter in a browser, against a model that answers as Python does."""

from __future__ import annotations

import json
from base64 import b64encode
from dataclasses import replace
from pathlib import Path

from panelgen.view import Message, changes, house_payload
from panelgen.view.page import bundle
from tests.factories import small_house
from tests.project.tree import PACKAGE
from tests.view.browser.conftest import Open

_PAGE = """<!doctype html><meta charset="utf-8"><div id="out" style="width: 1200px"></div>
<script type="module">
const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
const bundle = bytes("{bundle}");
const messages = {messages};
class Model {{
  constructor() {{
    this.values = {{ height: 500, theme: "light", picked: "", panel: "", finding: -1 }};
    this.listeners = [];
    this.heard = [];
  }}
  get(name) {{ return this.values[name]; }}
  set(values) {{ Object.assign(this.values, values); }}
  save_changes() {{}}
  on(event, act) {{ this.listeners.push([event, act]); }}
  off(event, act) {{ this.listeners = this.listeners.filter(([name, own]) => name !== event || own !== act); }}
  tell(event, ...values) {{ for (const [name, act] of [...this.listeners]) if (name === event) act(...values); }}
  show(place) {{
    const {{ head, buffers }} = messages[place];
    const views = buffers.map((text) => new DataView(bytes(text).buffer));
    this.tell("msg:custom", {{ kind: "payload", head }}, views);
  }}
  send(content) {{
    this.heard.push(content.kind);
    if (content.kind === "bundle") this.tell("msg:custom", {{ kind: "bundle" }}, [new DataView(bundle.buffer)]);
    if (content.kind === "ready") this.show(0);
  }}
}}
const loader = await import("data:text/javascript;base64,{loader}");
globalThis.model = new Model();
const out = document.getElementById("out");
globalThis.stop = await loader.default.render({{ model, el: out }});
out.firstChild.id = "panelgen-page";
await loader.default.render({{ model: new Model(), el: document.createElement("div") }});
</script>
"""


def _page(messages: list[Message]) -> str:
    data = [
        {"head": message.head, "buffers": [b64encode(buffer).decode() for buffer in message.buffers]}
        for message in messages
    ]
    loader = (PACKAGE / "view" / "static" / "loader.js").read_bytes()
    return _PAGE.format(
        bundle=b64encode(bundle().encode()).decode(),
        loader=b64encode(loader).decode(),
        messages=json.dumps(data),
    )


def test_messages_change_the_picture_and_picks_come_back(open_page: Open, tmp_path: Path) -> None:
    house = small_house(2)
    edited = replace(house.panels[1], members=house.panels[1].members[:-1], fasteners=())
    old, new = house_payload(house), house_payload(replace(house, panels=(house.panels[0], edited)))
    file = tmp_path / "widget.html"
    file.write_text(_page([changes(None, old), changes(old, new)]), encoding="utf-8")
    shown = open_page(file)
    second = house.panels[1]
    blocks = {(block["layer"], block["slot"], block["key"]) for block in new.panels[second.label]["blocks"]}
    kept = {(block["layer"], block["slot"], block["key"]) for block in old.panels[second.label]["blocks"]}
    shown.run("model.show(1)")
    assert 0 < shown.state["made"] <= len(blocks - kept)
    ids = shown.run(f"house.panels.get({second.label!r}).parts.map((part) => part.id)")
    assert house.panels[1].members[-1].id not in ids
    assert edited.members[-1].id in ids
    shown.run("view.select(view.house.openPanel?.parts[0] ?? [...view.house.panels.values()][0].parts[0])")
    assert shown.run("model.get('picked')") == shown.state["selected"]
    shown.run(f"(model.set({{ panel: {second.label!r} }}), model.tell('change:panel'))")
    assert shown.state["open"] == second.label
    assert shown.run("model.heard") == ["bundle", "ready"]
    shown.run("globalThis.stop()")
    assert shown.page.evaluate("() => model.listeners.length") == 0
    assert shown.page.locator("canvas").count() == 0
