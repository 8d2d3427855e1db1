"""What a roof leaves to its engineer, and sticks longer than the rack holds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.planes import RoofPlane
from panelgen.design.roofs.split import Patch
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Finding, Member, Severity

__all__ = ["dormers", "long_sticks", "spliced_lines"]

_ALONG = (RoofLine.HIP, RoofLine.VALLEY)


def long_sticks(brief: RoofBrief, members: Sequence[Member]) -> Iterator[Finding]:
    """A finding where the longest stick of a panel is longer than the shop's longest stock."""
    longest = max(members, key=lambda member: member.length, default=None)
    if longest is not None and longest.length > brief.shop.longest_stock + 1e-6:
        count = sum(member.length > brief.shop.longest_stock + 1e-6 for member in members)
        too_long = "one stick is" if count == 1 else f"{count} sticks are"
        yield Finding(
            "roof.stock-length",
            Severity.WARN,
            f"{too_long} longer than the longest in the rack: order longer stock, or bear the rafters between",
            brief.label,
            (longest.id,),
            longest.frame.point(longest.length / 2, longest.width / 2, longest.thickness / 2),
            value=longest.length,
            limit=brief.shop.longest_stock,
            source="spec shop.longest_stock",
        )


def spliced_lines(plane: RoofPlane, patches: Sequence[Patch]) -> Iterator[Finding]:
    """A finding where a hip or valley of a plane goes through more than one panel."""
    for line in _ALONG:
        parts = [side for patch in patches for side in patch.sides if side.line is line]
        whole = [side for side in plane.sides if side.line is line]
        splices = len(parts) - len(whole)
        if splices > 0:
            where = "a panel joint" if splices == 1 else f"{splices} panel joints"
            yield Finding(
                "roof.spliced",
                Severity.WARN,
                f"the {line} of plane {plane.id} is parted at {where}: how it bears there needs an engineer",
                parts=(plane.id,),
                house_point=plane.frame.point(*plane.pitch.point(parts[0].end)),
                source="common practice, no source",
            )


def dormers(brief: RoofBrief) -> Iterator[Finding]:
    """A remark on every bare opening for a dormer: the panel is framed for it, its walls and roof are not designed."""
    for hole in brief.holes:
        if hole.spec.kind == "dormer" and hole.spec.dormer is None:
            yield Finding(
                "roof.dormer",
                Severity.NOTE,
                f"the walls and roof of dormer {hole.spec.id} are not designed: they stand on the trimmers beside "
                "its opening, whose load needs an engineer",
                brief.label,
                (hole.spec.id,),
                (sum(hole.x) / 2, sum(hole.y) / 2, brief.pitch.depth),
                source="spec roofs.openings",
            )
