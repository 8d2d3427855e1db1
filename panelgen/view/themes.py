"""The looks that a view can have."""

from __future__ import annotations

from typing import Literal

__all__ = ["Theme"]

Theme = Literal["light", "dark", "auto"]
"""Auto follows the person's system."""
