"""What of a group is seen in one panel: the parts involved, the spots, and two pictures of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from panelgen.drawing.elevation import View, draw_elevation
from panelgen.drawing.marks import Spot
from panelgen.drawing.page import Drawing, Rectangle
from panelgen.geometry.frames import Vec3
from panelgen.model import Finding, House, Panel
from panelgen.review.groups import FindingGroup

__all__ = ["PanelScene", "draw_closeup", "draw_overview", "group_scenes"]

_OVERVIEW = View(width=600.0, height=400.0)
_CLOSEUP = (350.0, 400.0)
_NEAR = 560.0
_EDGE = _NEAR / 8
"""mm. Size of a close-up, and how near to its edge the spot or the panel's edge may come."""


@dataclass(frozen=True, slots=True)
class PanelScene:
    """One panel, the ids of the parts involved in it, and points (panel coordinates, mm) by finding number.

    Findings are numbered from 1 in the order of their group.
    """

    panel: Panel
    involved: tuple[str, ...]
    points: tuple[tuple[int, Vec3], ...]

    @property
    def spots(self) -> tuple[Spot, ...]:
        """The points as a picture marks them."""
        return tuple(Spot(number, x, y) for number, (x, y, _) in self.points)


def group_scenes(house: House, group: FindingGroup) -> tuple[PanelScene, ...]:
    """A scene for each panel that the findings of a group name or touch, in the order of the house.

    A finding about a wall is shown in its panel nearest to the point; one about the whole house nowhere.
    """
    seen: dict[str, list[tuple[int, Finding]]] = {}
    for number, finding in enumerate(group.findings, start=1):
        panel = _panel_of(house, finding)
        if panel is not None:
            seen.setdefault(panel.label, []).append((number, finding))
    return tuple(_scene(panel, group, seen[panel.label]) for panel in house.panels if panel.label in seen)


def draw_overview(scene: PanelScene) -> Drawing:
    """The whole panel."""
    return draw_elevation(scene.panel, scene.involved, scene.spots, _OVERVIEW)


def draw_closeup(scene: PanelScene) -> Drawing | None:
    """The surroundings of the first spot; None where there is no spot."""
    if not scene.points:
        return None
    width, height = _CLOSEUP
    return draw_elevation(scene.panel, scene.involved, scene.spots, View(width, height, _window(scene)))


def _window(scene: PanelScene) -> Rectangle:
    """A square that holds the first spot, around it where it is well inside the panel."""
    first, panel = scene.spots[0], scene.panel
    (x0, x1), (y0, y1) = _span(first.x, panel.length), _span(first.y, panel.height)
    return (x0, y0, x1, y1)


def _span(at: float, size: float) -> tuple[float, float]:
    """A stretch of `_NEAR` around `at`, moved toward the middle of `size` as long as `at` keeps off its ends."""
    centred = at - _NEAR / 2
    inside = min(max(centred, -_EDGE), max(size + _EDGE - _NEAR, -_EDGE))
    low = min(max(inside, at + _EDGE - _NEAR), at - _EDGE)
    return low, low + _NEAR


def _scene(panel: Panel, group: FindingGroup, findings: Iterable[tuple[int, Finding]]) -> PanelScene:
    numbered = tuple(findings)
    parts = dict.fromkeys((group.cause.id, *(part for _, finding in numbered for part in finding.parts)))
    points = ((number, _point_in(panel, finding)) for number, finding in numbered)
    return PanelScene(panel, tuple(parts), tuple((number, point) for number, point in points if point is not None))


def _point_in(panel: Panel, finding: Finding) -> Vec3 | None:
    if finding.point is not None or finding.house_point is None:
        return finding.point
    x, y, z = panel.frame.to_local([finding.house_point])[0]
    return (float(x), float(y), float(z))


def _panel_of(house: House, finding: Finding) -> Panel | None:
    if finding.panel:
        return next((panel for panel in house.panels if panel.label == finding.panel), None)
    own = [panel for panel in house.panels if panel.wall in finding.parts]
    return min(own, key=lambda panel: _away(panel, finding), default=None)


def _away(panel: Panel, finding: Finding) -> float:
    """How far along the wall a panel is from the finding's point."""
    point = _point_in(panel, finding)
    return 0.0 if point is None else max(-point[0], point[0] - panel.length, 0.0)
