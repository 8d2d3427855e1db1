"""Sticks by themselves and against one another: overlaps, cuts that meet, lengths too short to make."""

from __future__ import annotations

import numpy as np

from panelgen.checks.codes import found, named
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import overlapping
from panelgen.geometry.hexahedra import overlap_depths
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding

__all__ = ["member_member", "member_shape", "member_short"]


def member_member(scene: Scene) -> list[Finding]:
    """One finding for each two sticks that take the same space, notches and cut ends considered."""
    timber = scene.timber
    boxes, panel = timber.boxes.grown(-TOLERANCE / 2), timber.block_panel
    i, j = overlapping(boxes, boxes, panel, panel)
    apart = timber.owner[i] < timber.owner[j]
    i, j = i[apart], j[apart]
    depth = overlap_depths(timber.corners[i], timber.corners[j])
    deep = depth > TOLERANCE
    i, j, depth = i[deep], j[deep], depth[deep]
    point = (np.maximum(boxes.low[i], boxes.low[j]) + np.minimum(boxes.high[i], boxes.high[j])) / 2
    first, second = timber.owner[i], timber.owner[j]
    return [
        found(
            "member.member",
            scene.panels[panel[i[k]]],
            parts=(timber.members[first[k]].id, timber.members[second[k]].id),
            point=point[k],
            value=depth[k],
            limit=0.0,
            source="no two parts share space",
            member=named(timber.members[first[k]]),
            other=named(timber.members[second[k]]),
        )
        for k in worst_of_each(depth, first, second).tolist()
    ]


def member_shape(scene: Scene) -> list[Finding]:
    """One finding for each stick whose cuts and notches leave nothing of it, or leave it in pieces."""
    timber = scene.timber
    findings = []
    for index in np.flatnonzero(np.bincount(timber.owner, minlength=len(timber.members)) != 1).tolist():
        member = timber.members[index]
        blocks = timber.corners[timber.owner == index]
        if len(blocks) and all(notch.depth < member.width for notch in member.notches):
            continue
        findings.append(
            found(
                "member.shape",
                scene.panels[timber.panel[index]],
                parts=(member.id,),
                point=timber.origins[index] + timber.sizes[index] / 2 @ timber.axes[index],
                source="a stick is one piece of wood",
                member=named(member),
            )
        )
    return findings


def member_short(scene: Scene, shortest: float) -> list[Finding]:
    """One finding for each stick shorter than the shop makes, mm."""
    timber = scene.timber
    return [
        found(
            "member.short",
            scene.panels[timber.panel[index]],
            parts=(timber.members[index].id,),
            point=timber.origins[index] + timber.sizes[index] / 2 @ timber.axes[index],
            value=timber.sizes[index, 0],
            limit=shortest,
            source="spec shop.shortest_member",
            member=named(timber.members[index]),
        )
        for index in np.flatnonzero(timber.sizes[:, 0] < shortest - TOLERANCE).tolist()
    ]
