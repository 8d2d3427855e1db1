"""Studs that the engineer wants under a load of his own."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Id, SomeLength, Text

__all__ = ["PostSpec"]


class PostSpec(SpecModel):
    """`count` full-height studs together in `wall`, `at` this distance from its start, and in the walls below it."""

    id: Id
    wall: Id
    at: SomeLength
    count: Annotated[int, Field(ge=1, le=8)] = 2
    reason: Text
