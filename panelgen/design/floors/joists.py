"""Joists of one cassette: what stands at its edges, beside openings, under walls and on the layout.

They are set from the most to the least constrained; what is taken stays taken. A joist stops at the
headers of the openings it would cross.
"""

from __future__ import annotations

from panelgen.design.brief import OpeningBrief, Span
from panelgen.design.floors.brief import CassetteBrief
from panelgen.design.floors.outline import CRACK, WallBand
from panelgen.design.framing.sticks import Stock, upright
from panelgen.design.intervals import overlap, subtract
from panelgen.model import Finding, Member, Role, Severity, Why

__all__ = ["JoistRow", "stand_edges", "stand_on_layout", "stand_under_walls"]

_EPS = 1e-6
_PRACTICE = "common practice, no source"

_EDGE = Why("joist.edge", "closes the cassette and takes the screws to its neighbour", _PRACTICE)
_END = Why("rim.edge", "closes the deck over a wall and brings down the loads of the wall above", "IRC R502.7")
_UNDER = Why("joist.under-wall", "two joists under a bearing wall that runs along them", "IRC R502.4")


class JoistRow:
    """Collects the joists of a cassette. `headed` are its openings, each with the stretch of y its headers close."""

    def __init__(self, brief: CassetteBrief) -> None:
        self.brief = brief
        self.members: list[Member] = []
        self.findings: list[Finding] = []
        self.headed: list[tuple[OpeningBrief, Span]] = []
        self._taken: list[Span] = []

    def is_free(self, x: float, thickness: float) -> bool:
        """Whether a joist with its left face at x would be in the cassette and beside all others."""
        if x < -_EPS or x + thickness > self.brief.panel.length + _EPS:
            return False
        return all(overlap((x, x + thickness), taken) <= _EPS for taken in self._taken)

    def is_walled(self, x: float) -> bool:
        """Whether walls carry the joist at one edge over its whole length, but for cracks between them."""
        panel = self.brief.panel
        under = [
            (wall.rect[1], wall.rect[3])
            for wall in self.brief.below
            if wall.rect[0] <= x + _EPS and wall.rect[2] >= x - _EPS
        ]
        return not subtract((0.0, panel.height), under, CRACK)

    def is_borne(self, band: WallBand) -> bool:
        """Whether a joist stands under a wall along it, on another wall below."""
        span, along = (band.rect[0], band.rect[2]), (band.rect[1], band.rect[3])
        half = self.brief.stocks.joist.thickness / 2
        return any(overlap(taken, span) >= (taken[1] - taken[0]) / 2 - _EPS for taken in self._taken) and any(
            wall.is_along
            and overlap((wall.rect[0], wall.rect[2]), span) >= half - _EPS
            and overlap((wall.rect[1], wall.rect[3]), along) >= (along[1] - along[0]) / 2
            for wall in self.brief.below
        )

    def touches(self, x: float) -> bool:
        """Whether a side of a joist that stands is at x."""
        return any(abs(side - x) < _EPS for taken in self._taken for side in taken)

    def stand(self, id: str, role: Role, stock: Stock, x: float, why: Why, beside: OpeningBrief | None = None) -> bool:
        """A joist with its left face at x, in pieces where openings other than `beside` are in its way.

        False where another stands there already.
        """
        brief = self.brief
        if not self.is_free(x, stock.thickness):
            return False
        side = (x, x + stock.thickness)
        self._taken.append(side)
        cuts = [
            closed for hole, closed in self.headed if hole is not beside and overlap((hole.x0, hole.x1), side) > _EPS
        ]
        for y0, y1 in subtract(brief.ends, cuts):
            name = f"{id}@{brief.place}" if not cuts else f"{id}@{brief.place}-{round(y0)}"
            if y1 - y0 < brief.panel.shop.shortest_member - _EPS:
                self.findings.append(self._too_short(name, role, y1 - y0, x, y0))
                continue
            self.members.append(upright(name, role, stock, x, y0, y1, brief.stocks.z(stock), why))
        return True

    def _too_short(self, id: str, role: Role, length: float, x: float, y: float) -> Finding:
        shop = self.brief.panel.shop
        return Finding(
            "member.left-out",
            Severity.WARN,
            f"{role} {id} would be {length:.0f} mm long, shorter than the shop makes, and is left out",
            self.brief.panel.label,
            (id,),
            (x, y, 0.0),
            value=length,
            limit=shop.shortest_member,
            source="spec shop.shortest_member",
        )


def stand_edges(row: JoistRow) -> None:
    """The first and last joist of the cassette; of an engineered deck a rim where a wall is under its outer edge."""
    brief = row.brief
    panel = brief.panel
    for n, side in enumerate(("left", "right")):
        stock, role, why = brief.stocks.joist, Role.JOIST, _EDGE
        if stock.engineered and not brief.meets[n] and row.is_walled(panel.length * n):
            stock, role, why = brief.stocks.rim, Role.RIM, _END
        at = round(panel.wall_start + panel.length * n)
        x = (panel.length - stock.thickness) * n
        row.stand(f"{panel.wall.id}/edge-{role}-{side}-{at}", role, stock, x, why)


def stand_under_walls(row: JoistRow) -> None:
    """Two joists under the middle of each bearing wall that runs along them, unless a wall and a joist are there."""
    stock = row.brief.stocks.joist
    for band in row.brief.above:
        if not (band.bearing and band.is_along) or row.is_borne(band):
            continue
        middle = (band.rect[0] + band.rect[2]) / 2
        for ply, x in ((1, middle - stock.thickness), (2, middle)):
            row.stand(f"{row.brief.panel.wall.id}/under-{band.wall}-{ply}", Role.JOIST, stock, x, _UNDER)


def stand_on_layout(row: JoistRow) -> None:
    """A joist on every layout line where none of the others stands."""
    panel, stock = row.brief.panel, row.brief.stocks.joist
    spacing = panel.assembly.framing.spacing
    why = Why("joist.layout", f"common joist, {spacing:.1f} mm on centre along the whole deck", "spec framing spacing")
    for centre in panel.layout:
        name = f"{panel.wall.id}/joist-{panel.layout_number(centre)}"
        row.stand(name, Role.JOIST, stock, centre - stock.thickness / 2, why)
