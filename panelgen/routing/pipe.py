"""The room that a run takes: along its legs, and where it turns."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.catalog import Catalog
from panelgen.geometry.frames import Vec3
from panelgen.model import ServiceRun

__all__ = ["Pipe", "Reach"]

Reach = tuple[Vec3, Vec3, Vec3]
"""For a leg along panel x, y and z: how far the outside reaches from its axis along x, y and z, mm."""

_SQUARE_TURN = 90.0


@dataclass(frozen=True, slots=True)
class Pipe:
    """What is to be led through the wall.

    `half` is the room along a leg and `turn_half` that at a turn, where an elbow is wider. `turn_reach` is
    the straight length, mm, that a turn takes of each of its legs: the arm of the elbow, or the radius of
    the bend; `end_reach` is what it takes of the last leg, which may end in a bend but not in an elbow.
    `bore` is the diameter of its hole through wood, None for what goes through no bore. `spare` is room, mm,
    that its legs keep around them besides, for couplings.
    """

    run: str
    system: str
    half: Reach
    turn_half: Reach
    turn_reach: float
    end_reach: float
    bore: float | None
    spare: float = 0.0

    def kept_clear(self, axis: int) -> Vec3:
        """How far from its axis a leg along x, y or z (`axis` 0 to 2) keeps clear: its outside, and what it spares."""
        x, y, z = (half + self.spare for half in self.half[axis])
        return (x, y, z)

    @classmethod
    def of(cls, run: ServiceRun, catalog: Catalog) -> Pipe:
        """The room of a run; its elbows and its hole are those of its catalog size."""
        size = catalog.service_sizes.get(run.product)
        half = _reach(run.outside_diameter, run.outside_section)
        turn_half, turn_reach, end_reach = half, run.bend_radius, 0.0
        if size is not None and catalog.services.series(size).turns == "elbow":
            elbow = catalog.services.fitting(size, "elbow")
            if elbow is not None:
                section = None
                if elbow.section is not None and run.section is not None:
                    wide = elbow.section if run.section[0] >= run.section[1] else elbow.section[::-1]
                    section = (wide[0] + 2 * run.insulation, wide[1] + 2 * run.insulation)
                turn_half = _reach(elbow.diameter + 2 * run.insulation, section)
                turn_reach = end_reach = elbow.reach(_SQUARE_TURN)
        clearance = size.bore_clearance if size is not None else catalog.bore_clearance("other").clearance
        return cls(
            run.id,
            run.system,
            half,
            turn_half,
            turn_reach,
            end_reach,
            run.outside_diameter + clearance if run.section is None else None,
        )


def _reach(diameter: float, section: tuple[float, float] | None) -> Reach:
    """A round run reaches its radius; a rectangular one half its width and depth, turned as `Section` says."""
    if section is None:
        radius = diameter / 2
        return ((radius, radius, radius),) * 3
    width, depth = section[0] / 2, section[1] / 2
    return ((0.0, width, depth), (width, 0.0, depth), (width, depth, 0.0))
