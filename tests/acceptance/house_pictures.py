"""Pictures of a house with panels of every kind: assembled and exploded, in both themes, each dormer by itself, alone
and on its slope, and one panel of each kind.

Run with ``python -m tests.acceptance.house_pictures [FOLDER] [HOUSE.yaml]``; without these, into a new folder, of the
shipped L-shaped house. Prints the name of each picture, then how many there are. Exits 1 if a kind is missing from the
house or a picture shows next to nothing.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
from PIL import Image

from panelgen import api
from panelgen.model import House, Panel, PanelKind, Role
from panelgen.view import Theme, snapshot

DEFAULT = Path(__file__).resolve().parents[2] / "examples" / "heron-house.yaml"
LEAST = 0.03
"""The share of a picture that is not background; a view that fits its window shows more."""

Wanted = Callable[[Panel], bool]
Shot = tuple[str, House | Panel, Theme, float]


def is_raked(panel: Panel) -> bool:
    """Whether its top slopes."""
    tops = {round(y, 3) for _, y in panel.profile}
    return panel.kind is PanelKind.EXTERIOR_WALL and len(tops) > 2


def has_opening(kind: str) -> Wanted:
    """Whether a panel has an opening of that kind."""
    return lambda panel: any(opening.kind == kind for opening in panel.openings)


def has_role(role: Role) -> Wanted:
    """Whether a panel has a stick of that role."""
    return lambda panel: any(member.role is role for member in panel.members)


KINDS: tuple[tuple[str, Wanted], ...] = (
    ("exterior", lambda panel: panel.kind is PanelKind.EXTERIOR_WALL and has_opening("window")(panel)),
    ("raked", is_raked),
    ("interior", lambda panel: panel.kind is PanelKind.INTERIOR_WALL and has_opening("door")(panel)),
    ("floor-stair", has_opening("stair")),
    ("ceiling", lambda panel: panel.kind is PanelKind.CEILING),
    ("roof-hip", has_role(Role.HIP)),
    ("roof-valley", has_role(Role.VALLEY)),
    ("roof-dormer", has_opening("dormer")),
    ("roof-skylight", has_opening("skylight")),
    ("dormer-front", lambda panel: panel.wall.endswith("-front") and panel.kind is PanelKind.EXTERIOR_WALL),
    ("dormer-cheek", lambda panel: panel.dormer != "" and panel.wall.endswith("-right")),
    ("dormer-roof", lambda panel: panel.dormer != "" and panel.kind is PanelKind.ROOF),
)


def shots(house: House) -> Iterator[Shot]:
    """What to take, by name. Raises LookupError for a kind of panel that the house has not."""
    for theme in ("light", "dark"):
        yield f"house-assembled-{theme}", house, theme, 0.0
        yield f"house-exploded-{theme}", house, theme, 1.0
    for dormer in sorted({panel.dormer for panel in house.panels} - {""}):
        own = tuple(panel for panel in house.panels if panel.dormer == dormer)
        below = tuple(panel for panel in house.panels if any(opening.id == dormer for opening in panel.openings))
        yield f"dormer-{dormer}", replace(house, panels=own, trusses=()), "light", 0.0
        yield f"dormer-{dormer}-exploded", replace(house, panels=own, trusses=()), "light", 1.0
        yield f"dormer-{dormer}-on-its-slope", replace(house, panels=(*below, *own), trusses=()), "dark", 0.0
    for name, wanted in KINDS:
        panel = next(filter(wanted, house.panels), None)
        if panel is None:
            raise LookupError(f"{house.name} has no panel of kind {name}")
        yield f"{name}-{panel.label}", panel, "light", 0.0
        yield f"{name}-{panel.label}-exploded", panel, "dark", 1.0


def shown_share(file: Path) -> float:
    """The share of a picture that differs from its corner."""
    pixels = np.asarray(Image.open(file).convert("RGB")).astype(int)
    return float((np.abs(pixels - pixels[0, 0]).max(axis=2) > 8).mean())


def main(arguments: list[str]) -> int:
    """Take the pictures; print their number."""
    out = Path(arguments[0] if arguments else tempfile.mkdtemp())
    out.mkdir(parents=True, exist_ok=True)
    house = api.design(api.load(arguments[1] if len(arguments) > 1 else DEFAULT))
    shares = []
    for name, thing, theme, explode in shots(house):
        file = snapshot(thing, out / f"{name}.png", theme=theme, explode=explode)
        shares.append(shown_share(file))
        print(f"{file}: {shares[-1]:.0%} shown")
    empty = sum(share < LEAST for share in shares)
    print(f"{len(shares)} pictures in {out}, {empty} of them empty")
    return 1 if empty else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
