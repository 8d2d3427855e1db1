"""Where services bar the joints of what lies: floors, ceilings and roof planes, as they bar those of walls."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from panelgen.catalog import Catalog
from panelgen.design.services.runs import Served
from panelgen.design.split.joints import Keep, service_keeps
from panelgen.design.trades.requests import Requests
from panelgen.geometry.frames import Frame
from panelgen.model import Finding, Severity

__all__ = ["joints_on_services", "keeps_by_name"]

_EPS = 1e-6


def keeps_by_name(served: Sequence[Served], requests: Requests, catalog: Catalog) -> Mapping[str, tuple[Keep, ...]]:
    """The stretches of each where a joint would fall on a service, along its layout (mm)."""
    runs = requests.runs_in([one.space for one in served])
    return {
        one.name: service_keeps(one.name, 0.0, one.stick, one.space, parts, requests, catalog)
        for one, parts in zip(served, runs, strict=True)
    }


def joints_on_services(
    what: str, joints: Sequence[float], keeps: Sequence[Keep], frame: Frame, up: float = 0.0
) -> Iterator[Finding]:
    """The services on which joints of something fall that cannot fall elsewhere; `up` is where that is shown."""
    for joint in joints:
        near = (keep.what for keep in keeps if keep.start + _EPS < joint < keep.stop - _EPS)
        for service in dict.fromkeys(near):
            yield Finding(
                "panel.joint-service",
                Severity.WARN,
                f"a joint of {what} falls on {service}, since no other split keeps the limits: move the service",
                parts=(service.partition(" ")[2],),
                house_point=frame.point(joint, up, 0.0),
                source="no service is built into the joint of two panels: common practice, no source",
            )
