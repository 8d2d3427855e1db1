"""Which rule for cutting wood a stick falls under, by its role and its wall."""

from __future__ import annotations

from panelgen.model import Member, Panel, PanelKind, Role

__all__ = ["JOISTS", "STUDS", "TOP_PLATES", "UNRULED", "WALLS", "is_bearing", "is_unruled"]

STUDS = frozenset({Role.STUD, Role.POST, Role.KING, Role.JACK, Role.CRIPPLE})
JOISTS = frozenset({Role.JOIST, Role.TRIMMER, Role.RAFTER, Role.HIP, Role.VALLEY})
TOP_PLATES = frozenset({Role.TOP_PLATE, Role.CAP_PLATE})
UNRULED = frozenset({Role.HEADER, Role.RIM, Role.RIDGE})
"""Sticks that carry load across a span, for which the rule sets allow no hole."""

WALLS = frozenset({PanelKind.EXTERIOR_WALL, PanelKind.INTERIOR_WALL})
"""Panels that stand."""


def is_bearing(panel: Panel) -> bool:
    """True where the rule sets treat the wall as bearing: bearing walls and all exterior walls."""
    return panel.bearing or panel.kind is PanelKind.EXTERIOR_WALL


def is_unruled(member: Member) -> bool:
    """True where the rule sets allow no hole or notch: sticks under a span's load, and all engineered ones."""
    return member.role in UNRULED or member.engineered
