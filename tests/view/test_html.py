"""The standalone page: whole, closed to the network, and no name in it can become markup."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from panelgen.errors import ExportError
from panelgen.model import Finding, Severity
from panelgen.view import changes, house_payload, to_html
from tests.factories import small_house

NASTY = "</script><img src=x onerror=alert(1)><!--"


class Page(HTMLParser):
    """Elements of a page in order, and the text of each script."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[dict[str, str | None]] = []
        self.scripts: list[str] = []
        self.title = ""
        self.inside = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.inside = tag
        self.tags.append(tag)
        self.attributes.append(dict(attrs))
        if tag == "script":
            self.scripts.append("")

    def handle_endtag(self, tag: str) -> None:
        self.inside = ""

    def handle_data(self, data: str) -> None:
        if self.inside == "script":
            self.scripts[-1] += data
        elif self.inside == "title":
            self.title += data


def written(tmp_path: Path) -> str:
    house = replace(small_house(2), name=NASTY)
    findings = [Finding("x.y", Severity.STOP, NASTY, house.panels[0].label, (NASTY,))]
    return to_html(house, tmp_path / "house.html", findings).read_text(encoding="utf-8")


def test_names_stay_text(tmp_path: Path) -> None:
    page = Page(written(tmp_path))
    assert page.tags == [
        "html",
        "head",
        "meta",
        "meta",
        "meta",
        "title",
        "style",
        "body",
        "main",
        "h1",
        "script",
        "script",
    ]
    assert page.title.startswith(NASTY)
    message, _ = page.scripts
    assert "<" not in message
    assert json.loads(message)["head"]["house"]["name"] == NASTY


def test_message_is_the_payload(tmp_path: Path) -> None:
    house = small_house(2)
    page = Page(to_html(house, tmp_path / "house.html").read_text(encoding="utf-8"))
    data = json.loads(page.scripts[0])
    wanted = changes(None, house_payload(house))
    assert data["head"] == json.loads(json.dumps(wanted.head))
    assert [base64.b64decode(text) for text in data["buffers"]] == wanted.buffers


def test_policy_lets_only_the_one_script_run(tmp_path: Path) -> None:
    page = Page(written(tmp_path))
    (policy,) = [
        attributes["content"]
        for attributes in page.attributes
        if attributes.get("http-equiv") == "Content-Security-Policy"
    ]
    digest = base64.b64encode(hashlib.sha256(page.scripts[1].encode()).digest()).decode()
    assert policy is not None
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == f"'sha256-{digest}'"


def test_bundle_keeps_the_licence_of_what_it_holds() -> None:
    from panelgen.view.page import bundle

    assert re.search(r"@license.*Three\.js Authors.*MIT", bundle(), re.DOTALL)


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    with pytest.raises(ExportError):
        to_html(small_house(1), tmp_path / "missing" / "house.html")
