"""Panels that stand farther apart at a joint than the crew can close or the joint's seals bridge."""

from __future__ import annotations

import math
from collections.abc import Iterator

from panelgen.catalog import Catalog
from panelgen.checks.codes import found
from panelgen.checks.shell.gaps import joint_gaps
from panelgen.checks.shell.meeting import REACH
from panelgen.checks.shell.standing import Standing
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, House, Joint

__all__ = ["joint_gap"]


def joint_gap(standing: Standing, house: House, catalog: Catalog) -> Iterator[Finding]:
    """A finding for each joint that is too wide, where it is widest. Raises CatalogError for an unknown seal."""
    for gap in joint_gaps(standing, house.joints):
        limit, source = _limit(gap.joint, catalog)
        if gap.width > limit + TOLERANCE:
            one, other = gap.joint.panels
            apart = math.isinf(gap.width)
            yield found(
                "joint.gap",
                gap.panel,
                parts=(" | ".join(gap.joint.panels),),
                point=gap.panel.frame.to_local(gap.point),
                value=REACH if apart else gap.width,
                limit=limit,
                source=source,
                kind=gap.joint.kind,
                one=one,
                other=other,
                how="stand farther apart than this" if apart else "do not meet",
            )


def _limit(joint: Joint, catalog: Catalog) -> tuple[float, str]:
    """The widest that a joint may be, mm, and who says so."""
    usual = catalog.panel_joint(joint.kind)
    seals = [catalog.seal(product) for product in (joint.air, joint.weather) if product]
    limits = [(usual.closes, usual.cited), *((seal.bridges, seal.cited) for seal in seals)]
    return min(limits, key=lambda limit: limit[0])
