"""Nails looked at by themselves: how deep a point is in a stick, and how near a shank comes to a line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from panelgen.design.brief import PanelBrief
from panelgen.design.fastening.panels import Unnailed, fasteners
from panelgen.design.framing.backing import backing
from panelgen.design.services.bores import bore_room, bored
from panelgen.design.sheathing.sheets import sheets
from panelgen.design.straps.cavity import straps
from panelgen.geometry.frames import Floats, Vec3
from panelgen.model import Fasteners, Finding, Member, RunPart, Sheet, Sleeve, Why
from tests.design.builders import blocked

__all__ = ["SHEETS", "Nailed", "board", "depths", "gap", "nailed", "run"]

SHEETS = ("outer sheathing edges", "outer sheathing field", "inner sheathing edges", "inner sheathing field")
"""The joints of sheets."""

FACES = ((0, 1, 3, 2), (4, 5, 7, 6), (0, 1, 5, 4), (2, 3, 7, 6), (0, 2, 6, 4), (1, 3, 7, 5))
"""Corners of a stick, numbered as by `Member.corners`, around each of its faces."""


@dataclass(frozen=True)
class Nailed:
    """The parts of a panel that are nailed, the nails, and what was left out."""

    members: tuple[Member, ...]
    sheets: tuple[Sheet, ...]
    fasteners: tuple[Fasteners, ...]
    findings: tuple[Finding, ...]

    def of(self, *joints: str) -> list[Fasteners]:
        """The batches of some joints, such as ``header plies``."""
        return [batch for batch in self.fasteners if batch.id.split("/")[1].rpartition("-")[0] in joints]

    def pairs(self, *joints: str) -> dict[tuple[str, str], Floats]:
        """The heads (n, 3) of the nails of some joints, by the ids of the part under them and the stick they enter."""
        heads: dict[tuple[str, str], list[Floats]] = {}
        for batch in self.of(*joints):
            parts = self.sheets if batch.fastens_sheets else self.members
            for head, fastened, into in zip(batch.points, batch.fastened, batch.into, strict=True):
                heads.setdefault((parts[fastened].id, self.members[into].id), []).append(head)
        return {pair: np.array(rows) for pair, rows in heads.items()}

    def count(self, *joints: str) -> int:
        """How many nails some joints have."""
        return sum(len(batch) for batch in self.of(*joints))


def nailed(
    panel: PanelBrief, runs: Sequence[RunPart] = (), rules: str = "irc-2021", sleeves: Sequence[Sleeve] = ()
) -> Nailed:
    """The panel with everything that is nailed: framing, blocking, straps and sheets."""
    schedule = panel.catalog.rules(rules)
    framing = blocked(panel)
    framing = (*framing, *backing(panel, framing)[0])
    (framing,) = bored([framing], [runs], {one.run: 3.0 for one in runs}, [bore_room(schedule, True)])
    strapping, _ = straps(panel, framing, runs, ())
    members = (*framing, *strapping)
    cut, _ = sheets(panel, members, sleeves)
    lot = Unnailed(panel.label, panel.length, panel.layers, members, cut, runs, panel.lapped[0])
    return Nailed(members, cut, *fasteners([lot], schedule, panel.catalog)[0])


def run(*path: Vec3, diameter: float = 25.0, id: str = "R1") -> RunPart:
    """A service along a path in panel coordinates."""
    return RunPart(f"{id}.1", id, "water", "pipe", diameter, path, Why("test", "", ""))


def depths(member: Member, points: Floats) -> Floats:
    """(n,) how far each point (n, 3) is under the nearest of the stick's six faces, mm; negative outside."""
    corners = member.corners()
    middle = corners.mean(axis=0)
    heights = []
    for face in FACES:
        a, b, c, _ = corners[list(face)]
        normal = np.cross(b - a, c - b)
        normal /= np.linalg.norm(normal)
        if normal @ (middle - a) < 0:
            normal = -normal
        heights.append((points - a) @ normal)
    return np.min(heights, axis=0)


def board(sheet: Sheet) -> shapely.Polygon:
    """A sheet with all its holes in panel coordinates."""
    x, y, _ = sheet.frame.origin
    holes = [shapely.Point(hole.x, hole.y).buffer(hole.diameter / 2, quad_segs=64) for hole in sheet.round_holes]
    face = shapely.Polygon(sheet.outline, sheet.cutouts) - shapely.union_all(holes)
    return shapely.affinity.translate(face, x, y)


def gap(batch: Fasteners, path: Sequence[Vec3]) -> float:
    """Least distance of the batch's shanks from a polyline, mm, by many points on both."""
    along = np.linspace(0.0, batch.length, 60)[:, None] * np.array(batch.direction)
    shanks = (batch.points[:, None] + along).reshape(-1, 3)
    least = np.inf
    for a, b in zip(np.array(path), np.array(path)[1:], strict=False):
        step = b - a
        at = np.clip((shanks - a) @ step / (step @ step), 0.0, 1.0)
        least = min(least, float(np.linalg.norm(shanks - a - at[:, None] * step, axis=1).min()))
    return least
