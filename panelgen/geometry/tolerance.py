"""The one length below which two parts that meet are said to touch, not to clash."""

from __future__ import annotations

__all__ = ["TOLERANCE"]

TOLERANCE = 0.05
"""mm. A part is shaved by this much before it is tested, so a penetration of 0.1 mm is always found
and parts that only touch, or miss each other by rounding, never are."""
