"""What closes the joints of panels: tapes, gaskets and membranes, and which of them a kind of joint gets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from panelgen.catalog.loading import DataFolder
from panelgen.catalog.rows import Fact, Fastener

__all__ = ["PanelJoint", "SealProduct", "read_panel_joints", "read_seals"]

_NONE = "none"

_SealKind = Literal["tape", "gasket", "membrane"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SealProduct(Fact):
    """A seal between two barriers no farther apart than `bridges` (mm)."""

    name: str
    kind: _SealKind
    bridges: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelJoint(Fact):
    """What the crew does at a kind of joint: seals of the air and the weather barrier, and nails or screws.

    Empty names stand for none; `spacing` (mm) is that of the fasteners along the joint. Panels are drawn together or
    packed out over no more than `closes` (mm), which is 0 where no two panels meet. `lap` says how sheathing or a
    spline crosses the joint, `tie` how plates do.
    """

    joint: str
    air: str
    weather: str
    fastener: str
    spacing: float
    closes: float
    lap: str
    tie: str


def read_seals(data: DataFolder) -> Iterable[SealProduct]:
    """Tapes, gaskets and membranes."""
    for row in data.records("seals"):
        yield SealProduct(
            name=row.text("name"),
            kind=row.choice("kind", _SealKind),
            bridges=row.inches("bridges"),
            **row.citation(),
        )


def read_panel_joints(
    data: DataFolder, seals: Mapping[str, SealProduct], fasteners: Mapping[str, Fastener]
) -> Iterable[PanelJoint]:
    """Kinds of joints, with products of `seals` and `fasteners`."""
    for row in data.records("panel_joints"):
        air, weather = (row.key(column, {**seals, _NONE: None}) for column in ("air", "weather"))
        fastener = row.key("fastener", {**fasteners, _NONE: None})
        air, weather, fastener = ("" if name == _NONE else name for name in (air, weather, fastener))
        yield PanelJoint(
            joint=row.text("joint"),
            air=air,
            weather=weather,
            fastener=fastener,
            spacing=row.inches("spacing"),
            closes=row.inches("closes"),
            lap="" if row.text("lap") == _NONE else row.text("lap"),
            tie="" if row.text("tie") == _NONE else row.text("tie"),
            **row.citation(),
        )
