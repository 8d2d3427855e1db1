"""A panel in the making, as the rooms that fill it see it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from panelgen.catalog import Catalog
from panelgen.design.brief import PanelBrief
from panelgen.model import Box, Finding, Layer, Member, RunPart

__all__ = ["Served", "Unfinished"]


class _Briefed(Protocol):
    """What services must know of the brief of a panel, of whatever kind."""

    @property
    def label(self) -> str:
        """The label of the panel."""

    @property
    def layers(self) -> tuple[Layer, ...]:
        """Its layers."""

    @property
    def catalog(self) -> Catalog:
        """The catalog that it is made from."""


class Served(Protocol):
    """A panel of any kind in which runs are shielded and held."""

    @property
    def brief(self) -> _Briefed:
        """What the panel is asked to be."""

    @property
    def members(self) -> Sequence[Member]:
        """Its sticks."""

    @property
    def runs(self) -> Sequence[RunPart]:
        """The runs in it."""

    @property
    def boxes(self) -> Sequence[Box]:
        """The boxes in it."""


@dataclass(frozen=True, slots=True, eq=False)
class Unfinished:
    """A panel's brief, its marked sticks, and the runs and boxes in it; `findings` say what was left out of it.

    `plated` is True where top plates close it, in which the next panel's cap plate may lap.
    """

    brief: PanelBrief
    members: tuple[Member, ...]
    runs: tuple[RunPart, ...]
    boxes: tuple[Box, ...] = ()
    findings: tuple[Finding, ...] = ()
    plated: bool = True
