"""Where the wall ends for a run: its outline, its faces, its sheathing, its openings, its joints, and other walls."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product

import numpy as np

from panelgen.catalog import Catalog
from panelgen.model import Barrier, Layer, LayerKind, Panel, Sleeve
from panelgen.routing.bodies import FAR, Body, Cause, Obstacle, Slab, bars_all_but, steps
from panelgen.routing.pipe import Pipe
from panelgen.routing.site import Site

__all__ = ["edge_obstacles", "sleeves_for"]

_EPS = 1e-3
_DOWN, _UP = -FAR, FAR


def edge_obstacles(site: Site, pipe: Pipe, catalog: Catalog) -> Iterator[Obstacle]:
    """Everything of a site that is neither stick nor service."""
    yield from _outline(site)
    yield from _ends(site)
    yield from _faces(site)
    sleeves = sleeves_for(site, pipe, catalog)
    for layer in site.layers:
        if layer.kind is LayerKind.SHEATHING:
            yield from _sheathing(layer, sleeves)
    for panel in site.panels:
        for opening in panel.openings:
            x0, x1 = opening.x0 + panel.wall_start, opening.x1 + panel.wall_start
            cause = Cause(opening.id, f"rough opening {opening.id}")
            yield Body((x0, opening.y0, _DOWN), (x1, opening.y1, _UP), cause)
    for left, right in pairwise(site.panels):
        x0, x1 = left.wall_start + left.length, right.wall_start
        cause = Cause("", f"the joint of panels {left.label} and {right.label}", ", which only level runs cross")
        is_gap = x1 - x0 > _EPS
        yield Body((x0, _DOWN, _DOWN), (x1, _UP, _UP), cause, bars=(is_gap, True, True))
    yield from _other_walls(site)


def sleeves_for(site: Site, pipe: Pipe, catalog: Catalog) -> tuple[tuple[float, float], ...]:
    """Where in the wall, (x, y), there are sleeves declared for the pipe that take it."""
    wide = 2 * max(pipe.half[2])
    return tuple(
        (sleeve.x + panel.wall_start, sleeve.y)
        for panel in site.panels
        for sleeve in panel.sleeves
        if _takes(sleeve, pipe, wide, catalog)
    )


def _takes(sleeve: Sleeve, pipe: Pipe, wide: float, catalog: Catalog) -> bool:
    return sleeve.run == pipe.run and wide <= catalog.sleeve(sleeve.product).inside + _EPS


def _outline(site: Site) -> Iterator[Body]:
    """Below the floor, and above the top of each panel."""
    yield Body((_DOWN, _DOWN, _DOWN), (_UP, 0.0, _UP), Cause("", "the bottom of the wall"))
    cause = Cause("", "the top of the wall")
    for panel in site.panels:
        ring = panel.profile
        for (xa, ya), (xb, yb) in zip(ring, ring[1:] + ring[:1], strict=True):
            if xb < xa - _EPS:  # the outline runs counter-clockwise: the top is what goes back
                start, end = (xb + panel.wall_start, yb, 0.0), (xa + panel.wall_start, ya, 0.0)
                for low, high in steps(start, end):
                    yield Body((low[0], low[1], _DOWN), (high[0], _UP, _UP), cause)


def _ends(site: Site) -> Iterator[Body]:
    """Beyond the ends of the framing, and of the straps, which may reach farther or less far at corners."""
    for kind, (start, end) in ((LayerKind.FRAMING, site.framing), (LayerKind.STRAPPING, site.strapping)):
        layer = site.layer(kind)
        if layer is not None:
            cause = Cause("", f"the end of the {layer.name}")
            yield Body((_DOWN, _DOWN, layer.z0), (start, _UP, layer.z1), cause)
            yield Body((end, _DOWN, layer.z0), (_UP, _UP, layer.z1), cause)


def _faces(site: Site) -> Iterator[Body]:
    low, high = site.panels[0].depth
    yield Body((_DOWN, _DOWN, _DOWN), (_UP, _UP, low), Cause("", "the room side of the wall"))
    yield Body((_DOWN, _DOWN, high), (_UP, _UP, _UP), Cause("", "the weather side of the wall"))


def _sheathing(layer: Layer, sleeves: tuple[tuple[float, float], ...]) -> Iterator[Obstacle]:
    """A sheet layer, open to legs through it in the sleeves."""
    barrier = f" ({layer.barrier.value} barrier)" if layer.barrier is not Barrier.NONE else ""
    cause = Cause("", f"the {layer.name}{barrier}", ", which a run crosses only in a sleeve declared for it")
    low, high = (_DOWN, _DOWN, layer.z0), (_UP, _UP, layer.z1)
    if not sleeves:
        yield Body(low, high, cause)
        return
    yield Body(low, high, cause, bars=bars_all_but(2))
    xs = sorted({x for x, _ in sleeves})
    for x0, x1 in pairwise([_DOWN, *xs, _UP]):
        yield Slab(2, (x0, _DOWN, layer.z0), (x1, _UP, layer.z1), cause)
    for x in xs:
        ys = sorted(y for at, y in sleeves if at == x)
        for y0, y1 in pairwise([_DOWN, *ys, _UP]):
            yield Slab(2, (x - _EPS, y0, layer.z0), (x + _EPS, y1, layer.z1), cause)


def _other_walls(site: Site) -> Iterator[Body]:
    """Panels of other walls that reach into this one."""
    low, high = site.panels[0].depth
    for panel in site.house.panels:
        if panel.wall == site.wall.id or panel.level != site.wall.level:
            continue
        box = _box_in(site, panel)
        if all(a < b - 1.0 for a, b in ((low, box[1][2]), (box[0][2], high))):
            (x0, y0, z0), (x1, y1, z1) = box
            yield Body((x0, y0, z0), (x1, y1, z1), Cause(panel.wall, f"wall {panel.wall}", ", which meets this one"))


def _box_in(site: Site, panel: Panel) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    corners = list(product((0.0, panel.length), (0.0, panel.height), panel.depth))
    local = site.wall.frame.to_local(panel.frame.to_parent(np.array(corners)))
    (x0, y0, z0), (x1, y1, z1) = local.min(axis=0).tolist(), local.max(axis=0).tolist()
    return (x0, y0, z0), (x1, y1, z1)
