"""Lengths as the written spec gives them: millimetres to the tenth."""

from __future__ import annotations

__all__ = ["tenth", "written"]


def tenth(value: float) -> float:
    """A length rounded to 0.1 mm; never a negative zero."""
    return round(float(value), 1) + 0.0


def written(value: float) -> str:
    """A length rounded to 0.1 mm as text without needless digits: ``2438.4``, ``600``, ``-12.7``."""
    return f"{tenth(value):.1f}".removesuffix(".0")
