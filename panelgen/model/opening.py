"""Windows, doors and bare openings, with the rough opening the framing leaves for them."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.model.why import Why

__all__ = ["HeaderChoice", "Opening"]


@dataclass(frozen=True, slots=True)
class HeaderChoice:
    """What carries the load over an opening. `stock` is empty where the table has no size that does.

    `span` and `allowed` are clear spans, mm; `grade` is the catalog grade of the table cells used.
    """

    plies: int
    stock: str
    jacks: int
    kings: int
    span: float
    allowed: float
    source: str
    grade: str


@dataclass(frozen=True, slots=True)
class Opening:
    """A rough opening in panel coordinates, mm, and the unit that goes in it."""

    id: str
    kind: str
    x0: float
    x1: float
    y0: float
    y1: float
    unit_width: float
    unit_height: float
    header: HeaderChoice | None
    why: Why

    @property
    def width(self) -> float:
        """Rough-opening width, mm."""
        return self.x1 - self.x0

    @property
    def is_shaft(self) -> bool:
        """True for an opening that is there for services to run through."""
        return self.kind == "shaft"

    @property
    def height(self) -> float:
        """Rough-opening height, mm."""
        return self.y1 - self.y0
