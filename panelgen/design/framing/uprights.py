"""Standing sticks of one panel: where each one may stand, and the cut of its top under the plates."""

from __future__ import annotations

from panelgen.design.brief import PanelBrief
from panelgen.design.framing.sticks import Stock, upright
from panelgen.design.framing.tops import Slope, slopes
from panelgen.model import Finding, Member, Role, Severity, Why

__all__ = ["Uprights"]

_EPS = 1e-6
_FULL = (Role.STUD, Role.POST, Role.KING)


class Uprights:
    """Collects studs from the most to the least important; what is taken stays taken.

    Full-height studs run from the top of the bottom plate to the underside of the top plates.
    """

    def __init__(self, brief: PanelBrief, stock: Stock) -> None:
        self.brief = brief
        self.stock = stock
        self.stretches: tuple[Slope, ...] = slopes(brief)
        self.plates_depth = brief.assembly.framing.top_plates * stock.thickness
        self.members: list[Member] = []
        self.findings: list[Finding] = []
        self._taken: list[tuple[float, float, Role]] = []

    @property
    def thickness(self) -> float:
        """Thickness of a stud, mm: what it takes along the panel."""
        return self.stock.thickness

    def holder(self, x: float) -> Role | None:
        """The role of the standing full-height stick that a stud with its left face at x would overlap."""
        for x0, x1, role in self._taken:
            if x < x1 - _EPS and x + self.thickness > x0 + _EPS:
                return role
        return None

    def inside(self, x: float) -> bool:
        """True where a stud with its left face at x lies within the panel."""
        return x >= -_EPS and x + self.thickness <= self.brief.length + _EPS

    def room_around(self, x0: float, x1: float) -> tuple[float, float]:
        """How far the free stretch around x0 to x1 reaches: to the next stick or opening, or the panel's ends.

        It is less than that where a stick stands in the way.
        """
        left = max((b for a, b, _ in self._taken if a < x0 - _EPS), default=0.0)
        right = min((a for a, b, _ in self._taken if b > x1 + _EPS), default=self.brief.length)
        openings = [hole.x0 for hole in self.brief.openings if hole.x0 >= x1 - _EPS]
        return left, min([right, *openings])

    def full_near(self, x: float, reach: float) -> list[tuple[float, float]]:
        """The full-height sticks whose middle is within `reach` of x, by both faces, mm."""
        return [(a, b) for a, b, role in self._taken if role in _FULL and abs((a + b) / 2 - x) <= reach + _EPS]

    def take(self, x0: float, x1: float, role: Role) -> None:
        """Keep later studs off a stretch, such as a rough opening."""
        self._taken.append((x0, x1, role))

    def full(self, id: str, role: Role, x: float, why: Why) -> bool:
        """Stand a full-height stud with its left face at x. False where something stands there already."""
        if not self.inside(x) or self.holder(x) is not None:
            return False
        self.take(x, x + self.thickness, role)
        self.part(id, role, x, self.stock.thickness, None, why)
        return True

    def part(self, id: str, role: Role, x: float, y0: float, y1: float | None, why: Why) -> None:
        """A stick from y0 to y1, or to the underside of the plates, standing anywhere; too short ones are reported."""
        slope = 0.0
        if y1 is None:
            y1, slope = self._under(x)
        if y1 - y0 < self.brief.shop.shortest_member - _EPS:
            self.too_short(id, role, y1 - y0, x, y0)
            return
        self.members.append(upright(id, role, self.stock, x, y0, y1, 0.0, why, slope=slope))

    def too_short(self, id: str, role: Role, length: float, x: float, y: float) -> None:
        """Report a stick that would be shorter than the shop can make; nothing is reported where none fits at all."""
        if length <= _EPS:
            return
        self.findings.append(
            Finding(
                "member.left-out",
                Severity.WARN,
                f"{role} {id} would be {length:.0f} mm long, shorter than the shop makes, and is left out",
                self.brief.label,
                (id,),
                (x, y, 0.0),
                value=length,
                limit=self.brief.shop.shortest_member,
                source="spec shop.shortest_member",
            )
        )

    def bends(self) -> tuple[float, ...]:
        """Panel x where the top line bends."""
        return tuple(stretch.x1 for stretch in self.stretches[:-1])

    def _under(self, x: float) -> tuple[float, float]:
        """Long point and slope of the top of a stud with its left face at x.

        A stud across a peak is cut along the chord, so that both its faces meet the plates.
        """
        left, right = x, x + self.thickness
        y_left = self._stretch_right_of(left).below(left, self.plates_depth)
        y_right = self._stretch_left_of(right).below(right, self.plates_depth)
        slope = (y_right - y_left) / self.thickness
        return max(y_left, y_right), slope if abs(slope) > _EPS else 0.0

    def _stretch_right_of(self, x: float) -> Slope:
        return next((s for s in self.stretches if x < s.x1 - _EPS), self.stretches[-1])

    def _stretch_left_of(self, x: float) -> Slope:
        return next((s for s in self.stretches if x <= s.x1 + _EPS), self.stretches[-1])
