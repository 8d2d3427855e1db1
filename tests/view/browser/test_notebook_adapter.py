"""The notebook adapter in a browser, against a model that answers as Python does."""

from __future__ import annotations

import json
import re
from base64 import b64encode
from dataclasses import replace
from pathlib import Path

from panelgen.model import Change, Finding, Proposal, Severity
from panelgen.view import Message, changes, house_payload
from panelgen.view.page import bundle
from panelgen.view.tables import finding_key
from tests.factories import small_house
from tests.project.tree import PACKAGE
from tests.view.browser.conftest import Open, Shown

_PAGE = """<!doctype html><meta charset="utf-8"><div id="out" style="width: 1200px"></div>
<script type="module">
const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
const bundle = bytes("{bundle}");
const messages = {messages};
class Model {{
  constructor() {{
    this.values = {{
      height: 500, theme: "light", picked: "", panel: "", finding: "", hidden_layers: ["insulation"], acts: true,
    }};
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
    this.heard.push(content);
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


def _opened(open_page: Open, tmp_path: Path, *messages: Message) -> Shown:
    file = tmp_path / "widget.html"
    file.write_text(_page(list(messages)), encoding="utf-8")
    return open_page(file)


def test_messages_change_the_picture_and_picks_come_back(open_page: Open, tmp_path: Path) -> None:
    house = small_house(2)
    edited = replace(house.panels[1], members=house.panels[1].members[:-1], fasteners=())
    old, new = house_payload(house), house_payload(replace(house, panels=(house.panels[0], edited)))
    shown = _opened(open_page, tmp_path, changes(None, old), changes(old, new))
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
    assert shown.run("model.heard.map(({ kind }) => kind)") == ["bundle", "ready"]
    shown.run("globalThis.stop()")
    assert shown.page.evaluate("() => model.listeners.length") == 0
    assert shown.page.locator("canvas").count() == 0


def test_traits_and_the_view_follow_one_another(open_page: Open, tmp_path: Path) -> None:
    house = small_house(2)
    label = house.panels[1].label
    shown = _opened(open_page, tmp_path, changes(None, house_payload(house)))

    def told(name: str, value: object) -> None:
        shown.run(f"(model.set({{ {name}: {json.dumps(value)} }}), model.tell('change:{name}'))")

    told("panel", label)
    assert shown.state["open"] == label
    told("picked", house.panels[1].members[2].id)
    assert shown.state["selected"] == house.panels[1].members[2].id
    told("hidden_layers", ["framing", "insulation"])
    assert shown.state["layers"]["framing"] == "hidden"
    shown.page.get_by_label("framing", exact=True).check()
    shown.page.get_by_label("services", exact=True).uncheck()
    assert sorted(shown.run("model.get('hidden_layers')")) == ["insulation", "services"]
    told("theme", "auto")
    assert shown.state["theme"] == "light"
    shown.page.emulate_media(color_scheme="dark")
    shown.page.wait_for_function("() => document.getElementById('panelgen-page').controller.state.theme === 'dark'")
    shown.button("Light").click()
    assert shown.run("model.get('theme')") == "light"


def test_what_python_set_before_the_page_came_is_taken_up(open_page: Open, tmp_path: Path) -> None:
    house = small_house(2)
    second = house.panels[1]
    finding = Finding("run.member", Severity.STOP, "a run meets wood", second.label, (second.members[0].id,))
    file = tmp_path / "widget.html"
    page = _page([changes(None, house_payload(house, [finding]))])
    file.write_text(page.replace('finding: ""', f'finding: "{finding_key(finding)}"'), encoding="utf-8")
    shown = open_page(file)
    state = shown.state
    assert (state["open"], state["finding"]) == (second.label, finding_key(finding))
    assert state["involved"] == [second.members[0].id]


def test_proposals_are_applied_and_waivers_written_by_the_host(open_page: Open, tmp_path: Path) -> None:
    house = small_house(2)
    label = house.panels[0].label
    ready = Finding(
        "run.member", Severity.STOP, "a run meets wood", label, proposal=Proposal("move it", (Change(("runs",), 0, 1),))
    )
    words = replace(ready, code="barrier.pierced", proposal=Proposal("decide"))
    waived = replace(ready, code="panel.mass", severity=Severity.NOTE, waived_by="the engineer")
    shown = _opened(open_page, tmp_path, changes(None, house_payload(house, [ready, words, waived])))
    acts = shown.page.locator(".pg-acts")

    shown.page.get_by_role("button", name=re.compile("run.member")).click()
    assert "Way out: move it" in shown.page.get_by_label("Findings", exact=True).inner_text()
    acts.get_by_role("button", name="Apply").click()
    assert shown.run("model.heard.at(-1)") == {"kind": "apply", "finding": finding_key(ready)}
    assert acts.count() == 0

    shown.page.get_by_role("button", name=re.compile("barrier.pierced")).click()
    assert acts.get_by_role("button").all_inner_texts() == ["Waive…"]
    acts.get_by_role("button").click()
    shown.page.get_by_label("Reason").fill("  ")
    shown.button("Waive").click()
    assert shown.run("model.heard.at(-1).kind") == "apply"
    shown.page.get_by_label("Reason").fill("the sleeve is drawn by another")
    shown.page.get_by_label("Decided by").fill("The engineer")
    shown.run("view.setExplode(1)")
    shown.button("Waive").click()
    assert shown.run("model.heard.at(-1)") == {
        "kind": "waive",
        "finding": finding_key(words),
        "reason": "the sleeve is drawn by another",
        "decided_by": "The engineer",
    }

    shown.page.get_by_role("button", name=re.compile("panel.mass")).click()
    assert acts.get_by_role("button").all_inner_texts() == ["Apply"]
    shown.run("(model.set({ acts: false }), model.tell('change:acts'))")
    assert acts.count() == 0
