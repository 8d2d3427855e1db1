"""What one panel is asked to be, once the house is split: the input of every room of `design`."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from panelgen.catalog import Catalog
from panelgen.geometry.frames import Frame, Point2
from panelgen.model import Layer, WallRun
from panelgen.spec.assemblies import Assembly
from panelgen.spec.house import DesignData, Shop
from panelgen.spec.services import BackingSpec

__all__ = ["OpeningBrief", "PanelBrief", "PostBrief", "Span", "Tee"]

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class OpeningBrief:
    """A rough opening in panel coordinates, mm."""

    id: str
    kind: str
    x0: float
    x1: float
    y0: float
    y1: float
    unit_width: float
    unit_height: float

    @property
    def to_floor(self) -> bool:
        """True where the bottom plate is cut out between the jacks."""
        return self.y0 <= 0.0


@dataclass(frozen=True, slots=True)
class Tee:
    """Another wall meets this panel: the panel x its whole assembly covers, and on which face.

    `framing` is the part of `span` its framing covers; `inner_face` is False where it meets the
    weather side.
    """

    wall: str
    span: Span
    framing: Span
    inner_face: bool = True


@dataclass(frozen=True, slots=True)
class PostBrief:
    """`count` full-height studs must stand close to panel `x`, mm, under a load; `name` tells it from others."""

    name: str
    x: float
    count: int
    words: str
    source: str


@dataclass(frozen=True, slots=True)
class PanelBrief:
    """One panel, in panel coordinates (mm); the framing spans x from 0 to `length`.

    `top` is the top of the framing as a polyline (x, y) from x = 0 to x = length: two points for a
    level wall. `layout` are the stud centre lines, at panel x, that fall in the panel. `outer_span`,
    `inner_span` and `strap_span` are the x extents of those layers, which differ from (0, length)
    where panels lap or meet at corners. `tees` and `corners` are the other walls that meet this
    panel, along it and at its ends. `joined` says whether the wall goes on in another panel at the
    left and the right end, `lapped` whether the cap plate can lap that joint: not where the top bends.
    `backing` keeps wall coordinates (panel x = wall x - `wall_start`). `posts` stand under loads from above.
    `storeys_above` counts the floors whose load the wall carries, besides the roof. `wall_base` is where the
    panel begins up its wall (a floor: along its joists). `highest` is how high the whole wall goes: no sheathing
    that laps another wall at its higher end goes beyond that.
    """

    label: str
    level: str
    wall: WallRun
    wall_start: float
    length: float
    top: tuple[Point2, ...]
    frame: Frame
    layers: tuple[Layer, ...]
    assembly: Assembly
    openings: tuple[OpeningBrief, ...]
    layout: tuple[float, ...]
    tees: tuple[Tee, ...]
    corners: tuple[Tee, ...]
    outer_span: Span
    inner_span: Span
    strap_span: Span
    joined: tuple[bool, bool]
    lapped: tuple[bool, bool]
    storeys_above: int
    backing: tuple[BackingSpec, ...]
    design: DesignData
    shop: Shop
    rules: str
    catalog: Catalog
    wall_base: float = 0.0
    posts: tuple[PostBrief, ...] = ()
    highest: float = inf

    @property
    def height(self) -> float:
        """Greatest height of the framing, mm."""
        return max(y for _, y in self.top)

    @property
    def is_level(self) -> bool:
        """True for a wall whose plates are level."""
        return all(abs(y - self.top[0][1]) < 1e-9 for _, y in self.top)

    @property
    def framing_depth(self) -> float:
        """Depth of the framing layer, mm."""
        return self.wall.thickness

    def layout_number(self, x: float) -> int:
        """The number of a layout line along the wall: the stud on it keeps its id whatever the panels are."""
        return round((x + self.wall_start) / self.assembly.framing.spacing)

    def top_at(self, x: float) -> float:
        """Height of the framing's top at panel x, mm; beyond the ends its slopes go on."""
        (xa, ya), (xb, yb), *further = self.top
        for xc, yc in further:
            if x <= xb:
                break
            (xa, ya), (xb, yb) = (xb, yb), (xc, yc)
        return ya + (yb - ya) * (x - xa) / (xb - xa)
