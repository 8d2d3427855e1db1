"""A house or a panel to look at: a 3D view for notebooks, and the same view as one HTML file or a picture.

    view(house, findings)                        in a notebook
    to_html(house, "house.html", findings)       one file that opens offline
    snapshot(house, "house.png", findings)       a picture, where a browser is installed

Nothing here needs a notebook until a widget is made.
"""

from panelgen.view.payload import Message, Payload, changes, house_payload, panel_payload
from panelgen.view.showing import to_html, view
from panelgen.view.snapshot import snapshot
from panelgen.view.themes import Theme

__all__ = ["Message", "Payload", "Theme", "changes", "house_payload", "panel_payload", "snapshot", "to_html", "view"]
