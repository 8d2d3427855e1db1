"""How each kind of thing is drawn. Colour is never the only cue: line style or shape says the same.

Colours are those of the model's palette; ink and paper follow the page they stand on, light or dark.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from panelgen.model.groups import PartGroup
from panelgen.model.palette import GROUP_COLOURS, OKABE_ITO, Rgb

__all__ = ["DRAWN_AS", "LOOKS", "Colour", "Look", "Neutral", "Paint"]

Neutral = Literal["ink", "soft", "paper"]
"""Text and outlines; quieter lines; what they stand on."""

Colour = Rgb | Neutral


class Look(StrEnum):
    """What a shape stands for."""

    FRAME = "frame"
    MEMBER = "member"
    OPENING = "opening"
    CROSS = "cross"
    OUTER = "outer"
    INNER = "inner"
    STRAP = "strap"
    BORE = "bore"
    RUN = "run"
    BOX = "box"
    SLEEVE = "sleeve"
    NAIL = "nail"
    INVOLVED = "involved"
    EDGE = "edge"
    HALO = "halo"
    SPOT = "spot"
    LEADER = "leader"
    DOT = "dot"
    BADGE = "badge"
    NUMBER = "number"
    LABEL = "label"
    CAPTION = "caption"
    RULE = "rule"


@dataclass(frozen=True, slots=True)
class Paint:
    """Fill and stroke; `width`, `dash` and the `size` of text in pixels.

    Text is filled, with `stroke` around it. `is_round` lines have half discs at their ends, so that one without
    length is a disc.
    """

    fill: Colour | None = None
    opacity: float = 1.0
    stroke: Colour | None = None
    width: float = 1.0
    dash: tuple[float, ...] = ()
    size: float = 0.0
    bold: bool = False
    is_round: bool = False


_SPOT = OKABE_ITO["vermillion"]

LOOKS: Mapping[Look, Paint] = {
    Look.FRAME: Paint(stroke="soft", width=1.0),
    Look.MEMBER: Paint(fill=GROUP_COLOURS[PartGroup.FRAMING], opacity=0.35, stroke="ink", width=0.7),
    Look.OPENING: Paint(fill="paper", stroke="ink", width=1.0),
    Look.CROSS: Paint(stroke="soft", width=0.6),
    Look.OUTER: Paint(stroke=GROUP_COLOURS[PartGroup.OUTER_SHEATHING], width=1.0, dash=(9.0, 4.0)),
    Look.INNER: Paint(stroke=GROUP_COLOURS[PartGroup.INNER_SHEATHING], width=1.0, dash=(2.0, 3.0)),
    Look.STRAP: Paint(
        fill=GROUP_COLOURS[PartGroup.STRAPPING],
        opacity=0.12,
        stroke=GROUP_COLOURS[PartGroup.STRAPPING],
        width=0.8,
        dash=(7.0, 2.0, 1.5, 2.0),
    ),
    Look.BORE: Paint(fill="paper", stroke="ink", width=0.7),
    Look.RUN: Paint(
        fill=GROUP_COLOURS[PartGroup.SERVICES], opacity=0.45, stroke=GROUP_COLOURS[PartGroup.SERVICES], width=1.1
    ),
    Look.BOX: Paint(fill=GROUP_COLOURS[PartGroup.SERVICES], opacity=0.8, stroke="ink", width=1.0),
    Look.SLEEVE: Paint(stroke=GROUP_COLOURS[PartGroup.SERVICES], width=2.0),
    Look.NAIL: Paint(fill="ink"),
    Look.INVOLVED: Paint(fill=_SPOT, opacity=0.3, stroke=_SPOT, width=1.8),
    Look.EDGE: Paint(stroke=_SPOT, width=1.8),
    Look.HALO: Paint(stroke="paper", width=6.0),
    Look.SPOT: Paint(stroke=_SPOT, width=3.0),
    Look.LEADER: Paint(stroke="ink", width=1.0),
    Look.DOT: Paint(fill="ink"),
    Look.BADGE: Paint(stroke="ink", width=19.0, is_round=True),
    Look.NUMBER: Paint(fill="paper", size=12.0, bold=True),
    Look.LABEL: Paint(fill="ink", stroke="paper", width=3.0, size=12.0),
    Look.CAPTION: Paint(fill="ink", size=12.0, bold=True),
    Look.RULE: Paint(stroke="ink", width=2.0),
}

DRAWN_AS: Mapping[Look, str] = {
    Look.MEMBER: "framing",
    Look.OPENING: "rough opening",
    Look.OUTER: "outer sheathing, joints",
    Look.INNER: "inner sheathing, joints",
    Look.STRAP: "straps",
    Look.RUN: "runs and fittings, to scale",
    Look.BORE: "bores",
    Look.BOX: "device boxes",
    Look.SLEEVE: "sleeves",
    Look.INVOLVED: "parts involved",
    Look.SPOT: "the spot",
}
"""The key to a picture, in the order in which it is read."""
