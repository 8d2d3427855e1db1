"""Members as plain solids, by their corners alone: an independent look at whether they overlap."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from panelgen.model import Member

__all__ = ["assert_apart", "outline", "volume"]


def outline(member: Member) -> shapely.Polygon:
    """What a member covers of the panel's (x, y) plane."""
    return shapely.MultiPoint(member.corners()[:, :2]).convex_hull


def volume(member: Member) -> float:
    """Volume of the stick before it is bored, m3."""
    return member.centre_length * member.width * member.thickness * 1e-9


def assert_apart(members: Sequence[Member]) -> None:
    """No two members share more than rounding."""
    outlines = [outline(member) for member in members]
    depths = [(member.corners()[:, 2].min(), member.corners()[:, 2].max()) for member in members]
    first, second = shapely.STRtree(outlines).query(outlines, predicate="intersects")
    shared = [
        (members[i].id, members[j].id)
        for i, j in zip(first.tolist(), second.tolist(), strict=True)
        if i < j
        and min(depths[i][1], depths[j][1]) - max(depths[i][0], depths[j][0]) > 1e-6
        and outlines[i].intersection(outlines[j]).area > 1e-3
    ]
    assert shared == []
