"""The view as one HTML file: it opens from disk, needs no network, and a policy inside it forbids any.

The data lie in the page as JSON in which no ``<`` is written, so that nothing in a name can end the element; the
one script that may run is named by its hash.
"""

from __future__ import annotations

import html
import json
from base64 import b64encode
from collections.abc import Mapping
from hashlib import sha256
from importlib.resources import files
from typing import Any

from panelgen.view.payload import Message

__all__ = ["bundle", "page_html"]

_PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src '{script_hash}'; \
style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title>
<style>html, body, #panelgen-page {{ height: 100%; margin: 0; }}
h1 {{ position: absolute; width: 1px; height: 1px; margin: 0; overflow: hidden; clip-path: inset(50%); }}</style>
</head>
<body>
<main id="panelgen-page"><h1>{title}</h1></main>
<script type="application/json" id="panelgen-message">{message}</script>
<script type="module">{script}</script>
</body>
</html>
"""


def bundle() -> str:
    """The view's JavaScript, an ES module."""
    return (files("panelgen.view") / "static" / "view.js").read_text(encoding="utf-8")


def page_html(title: str, message: Message, options: Mapping[str, Any]) -> str:
    """A page that shows a message; `options` are those of ``mount`` in ``web/src/mount.js``."""
    data = {
        "head": message.head,
        "buffers": [b64encode(buffer).decode("ascii") for buffer in message.buffers],
        "options": options,
    }
    script = bundle().replace("</script", "<\\/script").replace("<!--", "<\\!--")
    digest = b64encode(sha256(script.encode()).digest()).decode("ascii")
    return _PAGE.format(
        title=html.escape(title),
        script_hash=f"sha256-{digest}",
        message=json.dumps(data, separators=(",", ":")).replace("<", "\\u003c"),
        script=script,
    )
