"""Volumes and masses of parts, exactly from their shapes and never from a mesh.

A stick with square ends is a product of three lengths; leaning ends, clean bores and notches have
closed forms. Bores that break an edge, lean or meet others are integrated over the disc they cover
(good to 1e-8 of the stick), and those that cross at an angle slice by slice (1e-7 of the stick).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache, partial
from itertools import combinations, pairwise

import shapely

from panelgen.geometry.fibres import Across, chord_integral, disc
from panelgen.geometry.frames import Point2, dot
from panelgen.geometry.lofts import Cylinder, HalfSpace
from panelgen.geometry.slices import meeting_heights, sliced_volume, touching_heights
from panelgen.model.bodies import sheet_body, stick_body
from panelgen.model.bores import meets_notch
from panelgen.model.member import Member
from panelgen.model.panel import Panel
from panelgen.model.sections import endless_face, section_at
from panelgen.model.services import Box, Fitting, RunPart
from panelgen.model.sheet import Sheet
from panelgen.model.sticks import Stick, stick_of

__all__ = [
    "box_volume",
    "fitting_volume",
    "member_mass",
    "member_volume",
    "part_volumes",
    "run_volume",
    "sheet_mass",
    "sheet_volume",
]

_M3_PER_MM3 = 1e-9
_Z = (0.0, 0.0, 1.0)
_FACE = Across((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
_EQUAL = 1e-12


def member_volume(member: Member) -> float:
    """Net volume of wood, mm3, less bores, notches and end cuts."""
    if not member.bores and not member.notches:
        if member.has_square_ends:
            return member.length * member.width * member.thickness
        if _has_eight_corners(member):
            return member.centre_length * member.width * member.thickness
    return _stick_volume(stick_of(member))


def sheet_volume(sheet: Sheet) -> float:
    """Net volume of a sheet, mm3, less cut-outs and round holes. Raises GeometryError as `sheet_body` does."""
    body = sheet_body(sheet)
    volume = sum(loft.volume for loft in body.lofts)
    for group in body.bores:
        face = shapely.union_all([shapely.Polygon(loft.near[0], loft.near[1:]) for loft in body.lofts])
        round_cuts = shapely.union_all([disc(bore, _FACE) for bore in group])
        volume -= face.intersection(round_cuts).area * sheet.thickness
    return float(volume)


def run_volume(run: RunPart) -> float:
    """Outside volume of a run, mm3, insulation included: its section along its path, mitred or butted at the bends."""
    length = sum(math.dist(a, b) for a, b in pairwise(run.path))
    return run.outside_area * length


def fitting_volume(fitting: Fitting) -> float:
    """Outside volume of a fitting, mm3: its section along each of its arms, so a tee's middle counts twice."""
    area = math.pi / 4 * fitting.diameter**2 if fitting.section is None else math.prod(fitting.section)
    return area * fitting.length / 2 * len(fitting.arms)


def box_volume(box: Box) -> float:
    """Outside volume of a device box, mm3."""
    return math.prod(box.size)


def member_mass(member: Member) -> float:
    """Mass of a member, kg."""
    return member_volume(member) * member.density * _M3_PER_MM3


def sheet_mass(sheet: Sheet) -> float:
    """Mass of a sheet, kg."""
    return sheet_volume(sheet) * sheet.density * _M3_PER_MM3


def part_volumes(panel: Panel) -> Iterator[tuple[str, float]]:
    """The id and the volume, mm3, of every solid part: members, sheets, runs, fittings, boxes, in that order."""
    yield from ((member.id, member_volume(member)) for member in panel.members)
    yield from ((sheet.id, sheet_volume(sheet)) for sheet in panel.sheets)
    yield from ((run.id, run_volume(run)) for run in panel.runs)
    yield from ((fitting.id, fitting_volume(fitting)) for fitting in panel.fittings)
    yield from ((box.id, box_volume(box)) for box in panel.boxes)


def _has_eight_corners(member: Member) -> bool:
    """Whether the end planes stay apart inside the section: at the corner where they come nearest too."""
    start, end = member.start, member.end
    nearest = member.end_x(end, True, 0.0, 0.0) - member.end_x(start, False, 0.0, 0.0)
    nearest += min(0.0, (end.across_width - start.across_width) * member.width)
    nearest += min(0.0, (end.across_thickness - start.across_thickness) * member.thickness)
    return nearest > 0.0


@lru_cache(maxsize=8192)
def _stick_volume(stick: Stick) -> float:
    body = stick_body(stick)
    if body.trims:
        volume = chord_integral(endless_face(stick), _FACE, stick.half_spaces)
        bored = ((math.dist(hole.near, hole.far), hole.radius) for loft in body.lofts for hole in loft.holes)
        volume -= sum(math.pi * radius**2 * math.hypot(stick.thickness, aside) for aside, radius in bored)
    else:
        volume = sum(loft.volume for loft in body.lofts)
    return volume - sum(_bored(group, stick) for group in body.bores)


def _bored(group: tuple[Cylinder, ...], stick: Stick) -> float:
    """Volume that a group of bores takes from the notched stick."""
    axis = group[0].axis
    parallel = all(abs(dot(axis, bore.axis)) > 1.0 - _EQUAL for bore in group)
    notched = any(meets_notch(bore, stick) for bore in group)
    if not parallel or (notched and axis != _Z):
        return _sliced(group, stick)
    across = _FACE if axis == _Z else Across.to(axis)
    area = shapely.union_all([disc(bore, across) for bore in group])
    if notched:
        area = area.intersection(endless_face(stick))
    return chord_integral(area, across, stick.half_spaces)


def _upright_plane(a: Point2, b: Point2) -> HalfSpace:
    """The plane through a side of a notch, square to the wide face."""
    size = math.dist(a, b)
    nx, ny = (b[1] - a[1]) / size, (a[0] - b[0]) / size
    return HalfSpace((nx, ny, 0.0), nx * a[0] + ny * a[1])


def _sliced(group: tuple[Cylinder, ...], stick: Stick) -> float:
    planes = [*stick.half_spaces[:4]]
    for notch in stick.notches:
        planes += map(_upright_plane, notch.ring, (*notch.ring[1:], notch.ring[0]))
    breaks = [z for bore in group for z in touching_heights(bore, planes)]
    breaks += [z for a, b in combinations(group, 2) for z in meeting_heights(a, b)]
    reach = math.hypot(stick.length, stick.width, stick.thickness)
    return sliced_volume(partial(section_at, stick), group, breaks, stick.thickness, reach)
