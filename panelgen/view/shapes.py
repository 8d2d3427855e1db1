"""What a part looks like, as plain values in panel coordinates, mm: the words between model and buffers."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.geometry.frames import WORLD, Frame, Vec3
from panelgen.geometry.lofts import Hole
from panelgen.meshes import Mesh
from panelgen.model import Fasteners

__all__ = ["BoredShape", "BoxShape", "MeshShape", "NailShape", "PaneShape", "Shape", "TubeShape", "upright_box"]


@dataclass(frozen=True, slots=True)
class BoxShape:
    """A box with its edges along the axes of a frame, and its low corner at `low` in the frame's coordinates."""

    frame: Frame
    size: Vec3
    low: Vec3 = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class PaneShape:
    """A box that is seen through: glass."""

    box: BoxShape


@dataclass(frozen=True, slots=True, eq=False)
class MeshShape:
    """A closed mesh."""

    mesh: Mesh


@dataclass(frozen=True, slots=True)
class BoredShape:
    """A box with round holes through its depth; the holes are in coordinates along its length and width."""

    box: BoxShape
    holes: tuple[Hole, ...]


@dataclass(frozen=True, slots=True)
class TubeShape:
    """A straight length of round run from `start` to `end`; `turns` where the next one goes on from its end."""

    start: Vec3
    end: Vec3
    radius: float
    turns: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class NailShape:
    """A row of nails or screws."""

    nails: Fasteners


Shape = BoxShape | PaneShape | MeshShape | BoredShape | TubeShape | NailShape


def upright_box(low: Vec3, high: Vec3) -> BoxShape:
    """The box between two corners, its edges along the panel axes."""
    (x0, y0, z0), (x1, y1, z1) = low, high
    return BoxShape(WORLD, (x1 - x0, y1 - y0, z1 - z0), low)
