"""The verbs of the view: a widget in a notebook, or one HTML file."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from panelgen.files import whole_file
from panelgen.model import Finding, House, Panel
from panelgen.view.page import page_html
from panelgen.view.payload import changes, payload_of
from panelgen.view.themes import Theme

if TYPE_CHECKING:
    from panelgen.view.widget import PanelView

__all__ = ["to_html", "view"]


def view(
    thing: House | Panel, findings: Iterable[Finding] = (), *, height: int = 640, theme: Theme = "light"
) -> PanelView:
    """A widget that shows a house or a panel, with the findings about it, `height` pixels high.

    Show something else in it, such as the same house after a change, with its ``show`` method.
    """
    from panelgen.view.widget import PanelView

    widget = PanelView(height=height, theme=theme)
    widget.show(thing, findings)
    return widget


def to_html(thing: House | Panel, path: Path | str, findings: Iterable[Finding] = (), *, theme: Theme = "auto") -> Path:
    """Write the view of a house or a panel as one file that opens offline. Returns its path.

    Raises ExportError where it cannot be written, GeometryError where a part has no shape.
    """
    path = Path(path)
    title = thing.name if isinstance(thing, House) else f"Panel {thing.label}"
    text = page_html(title, changes(None, payload_of(thing, findings)), {"theme": theme})
    with whole_file(path) as scratch:
        scratch.write_text(text, encoding="utf-8", newline="\n")
    return path
