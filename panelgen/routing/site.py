"""The wall that a route leads through: its panels side by side, in wall coordinates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from panelgen.design.brief import Span
from panelgen.design.extents import Extent, extent_of
from panelgen.errors import BadValueError
from panelgen.geometry.frames import Vec3
from panelgen.model import House, Layer, LayerKind, Member, Panel, WallRun

__all__ = ["DEPTH_WORDS", "Site"]

_EPS = 1e-6
_SAME = 1e-3

DEPTH_WORDS = {"cavity": LayerKind.STRAPPING, "framing": LayerKind.FRAMING}
"""What a spec calls the middle of a layer."""


@dataclass(frozen=True, slots=True, eq=False)
class Site:
    """A wall of a house with its panels, left to right. Wall x = panel x + `Panel.wall_start`; y and z are the same.

    `framing` and `strapping` are where these layers begin and end along the wall, mm; the panels may be
    some of those between.
    """

    house: House
    wall: WallRun
    panels: tuple[Panel, ...]
    framing: Span
    strapping: Span

    @classmethod
    def of(cls, house: House, wall: str) -> Site:
        """The site of the wall of that id. Raises BadValueError where the house has none, or it has no panels."""
        for one in house.walls:
            if one.id == wall:
                panels = sorted((p for p in house.panels if p.wall == wall), key=lambda panel: panel.wall_start)
                if not panels:
                    raise BadValueError(f"wall {wall} has no panels", "choose a wall that is built")
                framing = panels[0].wall_start, panels[-1].wall_start + panels[-1].length
                return cls(house, one, tuple(panels), framing, _strapping(panels, framing))
        known = ", ".join(one.id for one in house.walls)
        raise BadValueError(f"no wall is called {wall!r}", f"choose from {known}")

    def between(self, low: float, high: float) -> Site:
        """The site with only the panels that reach into a stretch of the wall, mm."""
        inside = (p for p in self.panels if p.wall_start < high and p.wall_start + p.length > low)
        panels = tuple(inside) or (min(self.panels, key=lambda p: abs(p.wall_start - low)),)
        return replace(self, panels=panels)

    @classmethod
    def around(cls, house: House, points: tuple[Vec3, ...]) -> Site:
        """The one wall whose layers hold all these house points. Raises BadValueError where there is not just one."""
        walls = {wall.id for wall in house.walls}
        built = dict.fromkeys(panel.wall for panel in house.panels if panel.wall in walls)
        found = [site for site in (cls.of(house, wall) for wall in built) if site._holds(points)]
        if len(found) == 1:
            return found[0]
        places = " and ".join(f"({x:.0f}, {y:.0f}, {z:.0f})" for x, y, z in points)
        if not found:
            raise BadValueError(f"no wall holds both {places}", "route from end to end of one wall at a time")
        names = ", ".join(site.wall.id for site in found)
        raise BadValueError(f"walls {names} hold both {places}", "name the wall, and give the ends along it")

    def _holds(self, points: tuple[Vec3, ...]) -> bool:
        local = self.wall.frame.to_local(points)
        (x0, x1), (z0, z1) = self.along, self.panels[0].depth
        least, most = np.array((x0, 0.0, z0)) - _EPS, np.array((x1, self.height, z1)) + _EPS
        return bool(((local >= least) & (local <= most)).all())

    @property
    def along(self) -> Span:
        """Where the wall begins and ends for a run, mm."""
        return min(self.framing[0], self.strapping[0]), max(self.framing[1], self.strapping[1])

    @property
    def height(self) -> float:
        """Greatest height of the panels, mm."""
        return max(panel.height for panel in self.panels)

    @property
    def layers(self) -> tuple[Layer, ...]:
        """The layers of the wall, outside to inside."""
        return self.panels[0].layers

    def layer(self, kind: LayerKind) -> Layer | None:
        """The layer of a kind; for sheathing, of which there may be two, use `layers`."""
        return next((layer for layer in self.layers if layer.kind is kind), None)

    def depth_word(self, z: float) -> float | str:
        """The word by which a spec names a depth, or the depth itself where it has no word."""
        for word, kind in DEPTH_WORDS.items():
            layer = self.layer(kind)
            if layer is not None and abs((layer.z0 + layer.z1) / 2 - z) < _SAME:
                return word
        return z

    def extent(self, panel: Panel, member: Member) -> Extent:
        """The box around a member of one of the panels, in wall coordinates."""
        return _moved(extent_of(member), panel)


def _moved(box: Extent, panel: Panel) -> Extent:
    return box._replace(x0=box.x0 + panel.wall_start, x1=box.x1 + panel.wall_start)


def _strapping(panels: Sequence[Panel], framing: Span) -> Span:
    """Where the straps begin and end, which at corners is not where the framing does."""
    layer = next((layer.name for layer in panels[0].layers if layer.kind is LayerKind.STRAPPING), None)
    first, last = (
        [_moved(extent_of(member), panel) for member in panel.members if member.layer == layer]
        for panel in (panels[0], panels[-1])
    )
    return min((box.x0 for box in first), default=framing[0]), max((box.x1 for box in last), default=framing[1])
