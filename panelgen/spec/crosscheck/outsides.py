"""What a run of a spec takes up across its path, and where it lies in the house; None where a name is unknown."""

from __future__ import annotations

from panelgen.spec.crosscheck.survey import Place, Survey
from panelgen.spec.services import RunSpec

__all__ = ["house_path", "outside_depth", "outside_diameter"]


def outside_diameter(survey: Survey, run: RunSpec) -> float | None:
    """Diameter over the insulation, mm; of the circle around a rectangular run."""
    if run.size is None:
        bare = run.diameter
    else:
        size = survey.catalog.service_sizes.get(run.size)
        bare = size.diameter if size else None
    return None if bare is None else bare + 2 * run.insulation


def outside_depth(survey: Survey, run: RunSpec) -> float | None:
    """What the run takes of the depth of the wall it lies in, over its insulation, mm."""
    size = survey.catalog.service_sizes.get(run.size or "")
    if size is None or size.section is None:
        return outside_diameter(survey, run)
    width, depth = size.section
    return (depth if run.lay == "flat" else width) + 2 * run.insulation


def house_path(survey: Survey, run: RunSpec) -> list[Place] | None:
    """The path in house coordinates, mm."""
    if run.wall is None:
        return [(x, y, z) for x, y, z in run.path if not isinstance(z, str)]
    wall = survey.walls.get(run.wall)
    depths = survey.depths.get(wall.assembly) if wall else None
    if wall is None or depths is None:
        return None
    points = []
    for x, y, depth in run.path:
        z = depths.of(depth)
        if z is None:
            return None
        points.append(wall.place(x, y, z, depths.framing))
    return points
