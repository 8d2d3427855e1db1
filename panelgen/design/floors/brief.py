"""What one cassette is asked to be: a panel's brief, and what it has to do with walls and its neighbours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from panelgen.catalog import Catalog
from panelgen.design.brief import OpeningBrief, PanelBrief
from panelgen.design.floors.cassettes import Cassette
from panelgen.design.floors.outline import Deck, WallBand
from panelgen.design.floors.stocks import Stocks
from panelgen.design.intervals import overlap
from panelgen.geometry.frames import Frame
from panelgen.geometry.rectangles import Rect
from panelgen.model import PanelKind
from panelgen.spec.house import HouseSpec

__all__ = ["LETTERS", "CassetteBrief", "cassette_briefs"]

_EPS = 1e-6

LETTERS = {PanelKind.FLOOR: "F", PanelKind.CEILING: "C"}
"""The letters in the labels of these kinds of panel."""


@dataclass(frozen=True, slots=True)
class CassetteBrief:
    """One cassette, in panel coordinates (mm). `panel` is what the rooms that all panels share are told.

    `below` and `above` are the walls under it and on it, cut to its outline; `rims`, `meets` and `laps`
    are as in `Cassette`. `left` is the label of the cassette whose sheets lap onto this one.
    """

    panel: PanelBrief
    kind: PanelKind
    stocks: Stocks
    rims: tuple[bool, bool]
    meets: tuple[bool, bool, bool, bool]
    laps: tuple[float, float]
    below: tuple[WallBand, ...]
    above: tuple[WallBand, ...]

    @property
    def ends(self) -> tuple[float, float]:
        """Where joists begin and end: at the rims, or at the ends of the cassette; panel y."""
        rim = self.stocks.rim.thickness
        return (rim if self.rims[0] else 0.0, self.panel.height - (rim if self.rims[1] else 0.0))

    @property
    def place(self) -> str:
        """Where the cassette begins along its deck's joists, as the ids of its parts hold it."""
        return str(round(self.panel.wall_base))


def cassette_briefs(
    deck: Deck, placed: Sequence[Cassette], stocks: Stocks, spec: HouseSpec, catalog: Catalog, first: int
) -> tuple[CassetteBrief, ...]:
    """The briefs of a deck's cassettes, labelled by level, kind and running number from `first` on."""
    return tuple(
        _brief(deck, one, stocks, spec, catalog, f"{deck.level.id}{LETTERS[deck.kind]}{number:02d}")
        for number, one in enumerate(placed, start=first)
    )


def _brief(deck: Deck, one: Cassette, stocks: Stocks, spec: HouseSpec, catalog: Catalog, label: str) -> CassetteBrief:
    x0, y0, x1, y1 = one.rect
    length, height = x1 - x0, y1 - y0
    spacing = deck.assembly.framing.spacing
    first = round(-(-x0 // spacing))
    whole = (0.0, length)
    panel = PanelBrief(
        label=label,
        level=deck.level.id,
        wall=deck.run,
        wall_start=x0,
        length=length,
        top=((0.0, height), (length, height)),
        frame=Frame(deck.frame.point(x0, y0, 0.0), deck.frame.x, deck.frame.y),
        layers=deck.layers,
        assembly=deck.assembly,
        openings=tuple(_cut_opening(hole, one.rect) for hole in deck.openings if _inside(hole, one.rect)),
        layout=tuple(n * spacing - x0 for n in range(first, round(x1 // spacing) + 1)),
        tees=(),
        corners=(),
        outer_span=whole,
        inner_span=whole,
        strap_span=whole,
        joined=one.meets[:2],
        lapped=(False, False),
        storeys_above=0,
        backing=(),
        design=spec.design,
        shop=spec.shop,
        rules=spec.rules,
        catalog=catalog,
        wall_base=y0,
    )
    below, above = (_cut(bands, one.rect) for bands in (deck.below, deck.above))
    return CassetteBrief(panel, deck.kind, stocks, one.rims, one.meets, one.laps, below, above)


def _inside(hole: OpeningBrief, rect: Rect) -> bool:
    return overlap((hole.x0, hole.x1), (rect[0], rect[2])) > _EPS and overlap((hole.y0, hole.y1), rect[1::2]) > _EPS


def _cut_opening(hole: OpeningBrief, rect: Rect) -> OpeningBrief:
    """What of an opening of the deck lies in a cassette, in its coordinates."""
    x0, y0, x1, y1 = _shared((hole.x0, hole.y0, hole.x1, hole.y1), rect)
    return replace(hole, x0=x0, x1=x1, y0=y0, y1=y1)


def _cut(bands: Sequence[WallBand], rect: Rect) -> tuple[WallBand, ...]:
    """What of the walls lies within a cassette, in its coordinates."""
    cut = []
    for band in bands:
        framing, body = (_shared(one, rect) for one in (band.rect, band.body))
        if framing[2] - framing[0] > _EPS and framing[3] - framing[1] > _EPS:
            cut.append(replace(band, rect=framing, body=body))
    return tuple(cut)


def _shared(one: Rect, rect: Rect) -> Rect:
    """What two rectangles share, in the coordinates of the second."""
    x0, y0, x1, y1 = rect
    return (max(one[0], x0) - x0, max(one[1], y0) - y0, min(one[2], x1) - x0, min(one[3], y1) - y0)
