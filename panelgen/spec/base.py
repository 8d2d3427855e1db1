"""The base of every spec model: frozen, and unknown keys refused."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict

__all__ = ["SpecModel"]


class SpecModel(BaseModel):
    """What the designer wrote. Lengths are in mm whatever unit the file uses."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, str_strip_whitespace=True)
