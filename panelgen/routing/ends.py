"""The two ends of a route: where they are in the wall, in which layer, and which depths are open to them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from panelgen.design.brief import Span
from panelgen.errors import BadValueError
from panelgen.geometry.frames import Vec3
from panelgen.model import House, Layer, LayerKind
from panelgen.routing.request import EndPoint, RouteRequest
from panelgen.routing.site import DEPTH_WORDS, Site

__all__ = ["End", "misplaced", "placed"]

_EPS = 1e-6


@dataclass(frozen=True, slots=True)
class End:
    """One end in wall coordinates, mm. `layer` is None where it is neither in the framing nor in the cavity.

    `depths` are the least and greatest depth it may be at: those of its layer if a word gave the depth.
    """

    name: str
    point: Vec3
    layer: Layer | None
    depths: Span


def placed(house: House, request: RouteRequest) -> tuple[Site, End, End]:
    """The wall of a request and its two ends.

    Raises BadValueError where the wall is not known, a depth word has no layer, or the ends are one point.
    """
    if request.wall is None:
        start, end = _house_point(request.start), _house_point(request.end)
        site = Site.around(house, (start, end))
        (a, b) = site.wall.frame.to_local((start, end)).tolist()
        ends = (a[0], a[1], a[2]), (b[0], b[1], b[2])
    else:
        site = Site.of(house, request.wall)
        ends = request.start, request.end
    first, last = _end(site, "start", ends[0]), _end(site, "end", ends[1])
    if max(abs(a - b) for a, b in zip(first.point, last.point, strict=True)) < _EPS:
        raise BadValueError("start and end are one point", "give two points apart")
    return site, first, last


def misplaced(site: Site, ends: tuple[End, End], thick: float, has_sleeve: bool) -> Iterator[str]:
    """What keeps a run that takes `thick` mm of depth from any route between the ends, in words."""
    (x0, x1), top = site.along, site.height
    for end in ends:
        x, y, z = end.point
        if not (x0 - _EPS <= x <= x1 + _EPS and -_EPS <= y <= top + _EPS):
            yield f"the {end.name}, {x:.0f} mm along and {y:.0f} mm up, is not in wall {site.wall.id}"
        elif end.layer is None:
            yield f"the {end.name}, at a depth of {z:.0f} mm, is neither in the framing nor in the service cavity"
        elif thick > end.layer.thickness + _EPS:
            yield f"the run takes {thick:.1f} mm of depth and the {end.layer.name} has {end.layer.thickness:.1f} mm"
            return
    first, last = (end.layer for end in ends)
    if first is not None and last is not None and first != last and not has_sleeve:
        low, high = sorted((first, last), key=lambda layer: layer.z0)
        between = next(one for one in site.layers if low.z1 <= one.z0 and one.z1 <= high.z0)
        yield (
            f"the start is in the {first.name} and the end in the {last.name}: between them is the "
            f"{between.name}, and no sleeve that takes the run is declared for it"
        )


def _house_point(point: EndPoint) -> Vec3:
    x, y, z = point
    if isinstance(z, str):
        raise BadValueError(f"a depth word such as {z} needs a wall", "name the wall, or give house coordinates")
    return (x, y, z)


def _end(site: Site, name: str, point: EndPoint) -> End:
    x, y, depth = point
    if not isinstance(depth, str):
        layers = (one for one in site.layers if one.kind is not LayerKind.SHEATHING)
        layer = next((one for one in layers if one.z0 - _EPS <= depth <= one.z1 + _EPS), None)
        return End(name, (x, y, depth), layer, (depth, depth))
    if depth not in DEPTH_WORDS:
        raise BadValueError(f"{depth!r} is no depth word", "write cavity, framing, or a length")
    layer = site.layer(DEPTH_WORDS[depth])
    if layer is None:
        remedy = "give the depth as a length, or use an assembly with strapping"
        raise BadValueError(f"wall {site.wall.id} has no service cavity", remedy)
    return End(name, (x, y, (layer.z0 + layer.z1) / 2), layer, (layer.z0, layer.z1))
