"""The sticks of a roof panel as they are placed, and the joints in which their ends are nailed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from panelgen.design.brief import Span
from panelgen.model import Finding, Member

__all__ = ["EndJoint", "Sticks"]


@dataclass(frozen=True, slots=True)
class EndJoint:
    """The end of a stick on the side of another, which is nailed through into it as `joint` of the schedule says."""

    stick: str
    at_end: bool
    against: str
    joint: str


@dataclass(slots=True)
class Sticks:
    """What has been placed in a panel. `standing` are the stretches of x that sticks up the slope take."""

    members: list[Member] = field(default_factory=list)
    joints: list[EndJoint] = field(default_factory=list)
    standing: list[tuple[Span, str]] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def is_free(self, x0: float, x1: float) -> bool:
        """Whether no standing stick takes part of a stretch of x."""
        return all(x1 <= span[0] + 1e-6 or x0 >= span[1] - 1e-6 for span, _ in self.standing)

    def add(self, member: Member | None, *joints: EndJoint) -> bool:
        """Place a stick and its joints, if there is one."""
        if member is None:
            return False
        self.members.append(member)
        self.joints += joints
        return True

    def changed(self, change: Callable[[Member], Member]) -> None:
        """Replace every stick by what `change` makes of it."""
        self.members[:] = map(change, self.members)
