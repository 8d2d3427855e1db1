"""Metal ties across plates that a bore cuts through more than half."""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.catalog import RuleSet
from panelgen.design.brief import PanelBrief
from panelgen.model import Hardware, Member, Role, Why

__all__ = ["plate_ties"]


def plate_ties(brief: PanelBrief, members: Sequence[Member], rules: RuleSet) -> tuple[Hardware, ...]:
    """One tie at each bore wider than the rule set's share of a bearing wall's top plate."""
    if not brief.wall.bearing and not brief.wall.exterior:
        return ()
    rule = rules.plate_tie
    product = f"plate tie {rule.thickness:.2f} x {rule.width:.0f} mm galvanized steel"
    ties = []
    for member in members:
        if member.role is not Role.TOP_PLATE and member.role is not Role.CAP_PLATE:
            continue
        for bore in member.bores:
            if bore.diameter > rule.share * member.width:
                words = f"bore {bore.diameter:.0f} mm cuts more than {rule.share:.0%} of the plate"
                ties.append(
                    Hardware(
                        f"{member.id}/tie-{bore.run}",
                        product,
                        1,
                        member.frame.point(*bore.point),
                        Why("plate.tie", words, rule.cited),
                        (member.id,),
                    )
                )
    return tuple(ties)
