"""Service runs, boxes, sleeves and the small hardware that goes with them."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.geometry.frames import Frame, Vec3
from panelgen.model.why import Why

__all__ = ["Box", "Hardware", "RunPart", "ServiceRun", "Sleeve"]


@dataclass(frozen=True, slots=True)
class ServiceRun:
    """A whole run through the house: `path` is (n, 3) in house coordinates, mm; `diameter` is outside."""

    id: str
    system: str
    product: str
    diameter: float
    path: tuple[Vec3, ...]
    why: Why


@dataclass(frozen=True, slots=True)
class RunPart:
    """The stretch of a run inside one panel: `path` in panel coordinates, mm.

    `enters` and `leaves` are True where the run goes on beyond the panel at that end.
    """

    id: str
    run: str
    system: str
    product: str
    diameter: float
    path: tuple[Vec3, ...]
    why: Why
    enters: bool = False
    leaves: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """A device box: `frame` origin is the corner of its back, z toward the room; size (w, h, d) mm."""

    id: str
    product: str
    size: Vec3
    frame: Frame
    why: Why


@dataclass(frozen=True, slots=True)
class Sleeve:
    """A declared, sealed way through the barrier sheets at panel (x, y), mm, for one run."""

    id: str
    run: str
    product: str
    seal: str
    x: float
    y: float
    diameter: float
    why: Why


@dataclass(frozen=True, slots=True)
class Hardware:
    """Metal parts counted in the parts list: plates, ties. `point` is in panel coordinates, mm."""

    id: str
    product: str
    count: int
    point: Vec3
    why: Why
    parts: tuple[str, ...] = ()
