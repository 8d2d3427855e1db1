"""Bottom plate, top plates and the cap plate that laps across panel joints."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.framing.sticks import Stock, flat, sloping
from panelgen.design.framing.tops import Slope
from panelgen.design.intervals import split_at, subtract
from panelgen.model import Finding, Member, Role, Severity, Why

__all__ = ["bottom_plates", "cap_plates", "top_plates"]

_BOTTOM = Why("plate.bottom", "carries the studs and is nailed to the floor", "common practice, no source")
_TOP = Why("plate.top", "ties the studs together under the load", "IRC R602.3.2")


def bottom_plates(brief: PanelBrief, stock: Stock, studs: Sequence[Member], name: str) -> list[Member]:
    """Bottom plate, left out across doors, in lengths the rack holds, joined on studs."""
    spans = subtract((0.0, brief.length), [(o.x0, o.x1) for o in brief.openings if o.to_floor])
    return [
        flat(f"{name}/bottom-plate@{_at(brief, x0)}", Role.BOTTOM_PLATE, stock, x0, x1, stock.thickness, 0.0, _BOTTOM)
        for span in spans
        for x0, x1 in split_at(span, _centres(studs), brief.shop.longest_stock)
    ]


def top_plates(
    brief: PanelBrief, stock: Stock, studs: Sequence[Member], stretches: Sequence[Slope], name: str
) -> list[Member]:
    """The plate right on the studs, bent where the top bends, joined on studs."""
    depth = (brief.assembly.framing.top_plates - 1) * stock.thickness
    plates = []
    for stretch in stretches:
        for x0, x1 in split_at((stretch.x0, stretch.x1), _centres(studs), brief.shop.longest_stock):
            plates.append(
                _plate(f"{name}/top-plate@{_at(brief, x0)}", Role.TOP_PLATE, stock, stretch, x0, x1, depth, _TOP)
            )
    return plates


def cap_plates(
    brief: PanelBrief,
    stock: Stock,
    top: Sequence[Member],
    stretches: Sequence[Slope],
    name: str,
    lap: float,
    lap_source: str,
) -> tuple[list[Member], list[Finding]]:
    """The second top plate. It stops `lap` short of a joint with the next panel; a loose piece ties the two.

    The loose piece belongs to the panel on the left of the joint and is nailed on site. Where the top
    bends at the joint the two cap plates meet there, plumb cut.
    """
    if brief.assembly.framing.top_plates < 2:
        return [], []
    findings: list[Finding] = []
    left, right = (lap if lapped else 0.0 for lapped in brief.lapped)
    if left + right > brief.length:
        share = brief.length / (left + right)
        left, right = left * share, right * share
        findings.append(_short_lap(brief, min(v for v in (left, right) if v > 0), lap, lap_source))
    why = Why("plate.cap", f"laps the joints of the plate below by {lap:.0f} mm or more", lap_source)
    joints = sorted({plate.frame.origin[0] for plate in top if plate.frame.origin[0] > 1.0})
    plates = []
    for stretch in stretches:
        span = (max(stretch.x0, left), min(stretch.x1, brief.length - right))
        if span[1] - span[0] <= 1.0:
            continue
        free = [x for x in _every(span, 100.0) if all(abs(x - joint) >= lap for joint in joints)]
        for x0, x1 in split_at(span, free, brief.shop.longest_stock):
            plates.append(
                _plate(f"{name}/cap-plate@{_at(brief, x0)}", Role.CAP_PLATE, stock, stretch, x0, x1, 0.0, why)
            )
    if brief.lapped[1]:
        tie = Why("plate.splice", "loose on delivery: ties the cap plates across the panel joint", lap_source)
        x = brief.length
        splice = f"{name}/cap-splice@{_at(brief, x)}"
        piece = _plate(splice, Role.CAP_PLATE, stock, stretches[-1], x - right, x + lap, 0.0, tie, loose=True)
        plates.append(piece)
    return plates, findings


def _plate(
    id: str, role: Role, stock: Stock, stretch: Slope, x0: float, x1: float, depth: float, why: Why, loose: bool = False
) -> Member:
    y0, y1 = stretch.below(x0, depth), stretch.below(x1, depth)
    if abs(y1 - y0) < 1e-9:
        return flat(id, role, stock, x0, x1, y0, 0.0, why, loose=loose)
    return sloping(id, role, stock, x0, x1, y0, y1, 0.0, why, loose=loose)


def _short_lap(brief: PanelBrief, lap: float, limit: float, source: str) -> Finding:
    return Finding(
        "plate.lap",
        Severity.WARN,
        f"panel {brief.label} is too short for the cap plate to lap both its joints by {limit:.0f} mm",
        brief.label,
        point=(0.0, brief.height, 0.0),
        value=lap,
        limit=limit,
        source=source,
    )


def _at(brief: PanelBrief, x: float) -> int:
    return round(brief.wall_start + x)


def _centres(studs: Iterable[Member]) -> list[float]:
    return sorted(stud.frame.origin[0] + stud.thickness / 2 for stud in studs)


def _every(span: Span, step: float) -> list[float]:
    count = int((span[1] - span[0]) / step)
    return [span[0] + step * n for n in range(1, count + 1)]
