"""Where loads from above come down on walls at a point, and how many studs must stand there.

The ends of headers come down on the walls below, the trimmers of a deck's openings on those that carry the deck, and
posts where the engineer asks for them. From there each goes on down, wall under wall.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.brief import PanelBrief, PostBrief
from panelgen.design.floors.openings import TRIMMER_PLIES
from panelgen.design.floors.outline import Deck, WallBand
from panelgen.design.floors.stocks import stocks_of
from panelgen.design.framing.headers import header_over
from panelgen.design.walls.junctions import ResolvedWall
from panelgen.geometry.frames import Vec3
from panelgen.model.layers import underside
from panelgen.spec import HouseSpec

__all__ = ["posts_by_wall"]

_EPS = 1e-6
_TOUCH = 1.0
_DEEPEST = 610.0
"""A wall whose top is at most so far (mm) below a load carries it through the deck between: 24 in., common practice,
no source."""


@dataclass(frozen=True, slots=True)
class _Load:
    """What `count` sticks bring down at a house `point`, mm; `name` tells it from others, `words` is for people."""

    name: str
    words: str
    count: int
    point: Vec3
    source: str


def posts_by_wall(
    spec: HouseSpec,
    walls: Sequence[ResolvedWall],
    wholes: Sequence[PanelBrief],
    decks: Sequence[Deck],
    rules: RuleSet,
    catalog: Catalog,
) -> dict[str, tuple[PostBrief, ...]]:
    """The posts that walls must have, by the wall's id, in wall coordinates (mm) and in the order of their loads.

    `wholes` are the briefs of the `walls`, each as one panel. Raises CatalogError for unknown stock.
    """
    posts: dict[str, list[PostBrief]] = {}
    practice = rules.structure.load_path.cited
    asked = [load for one in walls for load in _asked(spec, one)]
    from_headers = [load for whole in wholes for load in _headers(whole, rules, practice)]
    from_decks = [load for deck in decks for load in _trimmers(deck, catalog, practice)]
    loads = (*asked, *from_headers, *from_decks)
    for load, under in zip(loads, _walls_under(loads, walls), strict=True):
        for one in _down(load.point[2], under):
            posts.setdefault(one.wall, []).append(PostBrief(load.name, one.x, load.count, load.words, load.source))
    return {wall: tuple(row) for wall, row in posts.items()}


def _asked(spec: HouseSpec, one: ResolvedWall) -> Iterator[_Load]:
    """The posts that the spec asks for, at the top of their wall."""
    start, end = one.framing
    for post in spec.posts:
        if post.wall == one.wall.id and start <= post.at <= end:
            top = one.wall.frame.point(post.at, max(y for _, y in one.wall.top), one.wall.framing.thickness / 2)
            yield _Load(post.id, f"post {post.id}: {post.reason}", post.count, top, "spec posts")


def _headers(whole: PanelBrief, rules: RuleSet, source: str) -> Iterator[_Load]:
    """The ends of the headers of a bearing wall, at the foot of the wall."""
    if not whole.wall.bearing:
        return
    thickness = whole.catalog.stock(whole.assembly.framing.stock).thickness
    for hole in whole.openings:
        choice, _ = header_over(whole, hole, rules)
        width = choice.jacks * thickness
        for side, x in (("left", hole.x0 - width / 2), ("right", hole.x1 + width / 2)):
            foot = whole.frame.point(x, 0.0, whole.framing_depth / 2)
            yield _Load(f"{hole.id}-{side}", f"the header of opening {hole.id}", choice.jacks, foot, source)


def _trimmers(deck: Deck, catalog: Catalog, source: str) -> Iterator[_Load]:
    """The ends of the trimmers of a deck's openings, on the walls that carry it on both sides."""
    width = TRIMMER_PLIES * stocks_of(deck, catalog).header.thickness
    for hole in deck.openings:
        for side, x in (("left", hole.x0 - width / 2), ("right", hole.x1 + width / 2)):
            across = [band for band in deck.below if _crosses(band, x)]
            before = max((band for band in across if band.rect[1] <= hole.y0 + _EPS), key=_middle, default=None)
            after = min((band for band in across if band.rect[3] >= hole.y1 - _EPS), key=_middle, default=None)
            for band in (before, after):
                if band is not None:
                    point = deck.frame.point(x, _middle(band), underside(deck.layers))
                    words = f"the trimmers of {hole.kind} opening {hole.id}"
                    yield _Load(f"{hole.id}-{side}", words, TRIMMER_PLIES, point, source)


def _crosses(band: WallBand, x: float) -> bool:
    """Whether a wall carries the joist at `x`."""
    return band.bearing and not band.beam and not band.is_along and band.rect[0] <= x <= band.rect[2]


def _middle(band: WallBand) -> float:
    return (band.rect[1] + band.rect[3]) / 2


class _Under(NamedTuple):
    """A wall that a load is over: where along it, and its foot and top in the house, mm."""

    wall: str
    x: float
    base: float
    top: float


def _walls_under(loads: Sequence[_Load], walls: Sequence[ResolvedWall]) -> list[list[_Under]]:
    """For each load, every wall that is in plan where it is, at whatever height."""
    found: list[list[_Under]] = [[] for _ in loads]
    points = np.array([load.point for load in loads]).reshape(-1, 3)
    for one in walls:
        wall = one.wall
        base, (start, end) = wall.level.base, one.framing
        top = base + max(y for _, y in wall.top)
        x, _, z = wall.frame.to_local(points).T
        over = (x >= start - _EPS) & (x <= end + _EPS) & (z >= -_EPS) & (z <= wall.framing.thickness + _EPS)
        for number in np.flatnonzero(over).tolist():
            found[number].append(_Under(wall.id, float(x[number]), base, top))
    return found


def _down(foot: float, walls: Sequence[_Under]) -> Iterator[_Under]:
    """The walls among some under a load on which it comes down from a height `foot` (mm), one under the other."""
    while below := [one for one in walls if foot - _DEEPEST <= one.top <= foot + _TOUCH]:
        yield from below
        foot = min(one.base for one in below)
