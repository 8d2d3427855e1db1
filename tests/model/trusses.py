"""A row of supplied trusses, drawn by hand."""

from __future__ import annotations

from panelgen.geometry.frames import Frame
from panelgen.model import Truss, Why

__all__ = ["truss_row"]

OUTLINE = (
    (0.0, 0.0), (6000.0, 0.0), (6000.0, 100.0), (6300.0, -50.0), (6300.0, 50.0),
    (3000.0, 1450.0), (-300.0, 50.0), (-300.0, -50.0), (0.0, 100.0),
)  # fmt: skip


def truss_row(count: int) -> tuple[Truss, ...]:
    """Trusses of 50 kg on walls A and B, 600 mm apart, spanning 6 m along y at 2.5 m."""
    why = Why("truss", "supplied", "by hand")
    return tuple(
        Truss(
            f"T1-{n:02d}", "T1", "1", Frame((600.0 * n, 0.0, 2500.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), OUTLINE,
            6000.0, 50.0, ("A", "B"), 2, 90.0, 38.0, why,
        )
        for n in range(count)
    )  # fmt: skip
