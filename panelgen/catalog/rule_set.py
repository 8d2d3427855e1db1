"""A rule set: what one code edition allows. Reads the rule tables and answers questions about them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from panelgen.catalog.headers import HeaderAnswer, HeaderTable
from panelgen.catalog.lookup import find
from panelgen.catalog.rows import (
    BoreLimit,
    FlatHeader,
    HeaderCell,
    JointNailing,
    JoistLimits,
    KingStuds,
    NotchLimit,
    PlateLap,
    PlateTie,
    RoofFraming,
    SheetKind,
    SheetNailing,
    StudLimit,
)
from panelgen.catalog.service_rows import DrainSlope, Family, ServiceSize, ShieldRule, SupportRule
from panelgen.catalog.structure import StructureRules
from panelgen.errors import CatalogError

__all__ = ["RuleSet"]

_TOLERANCE = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class RuleSet:
    """One code edition. Lengths are mm, loads kPa; a limit that the edition does not give is None."""

    name: str
    title: str
    joints: Mapping[str, JointNailing]
    sheet_nailings: tuple[SheetNailing, ...]
    header_table: HeaderTable
    king_studs: tuple[KingStuds, ...]
    bores: Mapping[str, BoreLimit]
    notches: Mapping[str, NotchLimit]
    studs: tuple[StudLimit, ...]
    shields: Mapping[str, ShieldRule]
    supports: tuple[SupportRule, ...]
    slopes: tuple[DrainSlope, ...]
    joist: JoistLimits
    flat_header: FlatHeader
    roof: RoofFraming
    plate_lap: PlateLap
    plate_tie: PlateTie
    structure: StructureRules

    def joint(self, key: str) -> JointNailing:
        """Nailing of a joint such as ``top plate to stud``. Raises CatalogError for an unknown joint."""
        return find(self.joints, key, f"joint of rule set {self.name}")

    def sheet_nailing(self, thickness: float, kind: SheetKind = "wood") -> SheetNailing:
        """Nailing of a sheet `thickness` mm thick. Raises CatalogError where the schedule has no row for it."""
        rows = [row for row in self.sheet_nailings if row.kind == kind]
        for row in rows:
            if row.holds(thickness):
                return row
        covered = f"{rows[0].thinnest:.1f} to {rows[-1].thickest:.1f} mm" if rows else "none"
        raise CatalogError(
            f"rule set {self.name} has no nailing for {kind} sheets {thickness:.1f} mm thick; covered: {covered}"
        )

    @property
    def headers(self) -> tuple[HeaderCell, ...]:
        """Every cell of the edition's header table."""
        return self.header_table.cells

    def header(
        self,
        span: float,
        carries: str,
        snow: float,
        width: float,
        available_depth: float = math.inf,
        available_thickness: float = math.inf,
        braced: bool = True,
    ) -> HeaderAnswer:
        """The smallest adequate header, or the reason why there is none; see `HeaderTable.pick`."""
        return self.header_table.pick(span, carries, snow, width, available_depth, available_thickness, braced)

    def kings(self, span: float, spacing: float | None = None) -> KingStuds | None:
        """Full-height studs at each end of a header over `span`; None past the end of the table.

        Where the count depends on stud `spacing`, the nearest closer column is used, and the closest
        column if `spacing` is left out.
        """
        columns = {row.spacing for row in self.king_studs}
        if spacing is None or math.inf in columns:
            column = min(columns)
        else:
            column = max((known for known in columns if known <= spacing + _TOLERANCE), default=math.nan)
        rows = (row for row in self.king_studs if row.spacing == column and span <= row.span + _TOLERANCE)
        return min(rows, key=lambda row: row.span, default=None)

    def stud_bore(self, bearing: bool, doubled: bool = False) -> BoreLimit:
        """Bore limit of a stud; an exterior wall counts as `bearing`. Doubling helps only a bearing stud."""
        member = "bearing stud" if bearing else "nonbearing stud"
        return find(self.bores, f"doubled {member}" if doubled and bearing else member, f"bore limit of {self.name}")

    def stud_notch(self, bearing: bool) -> NotchLimit:
        """Notch limit of a stud; an exterior wall counts as `bearing`."""
        member = "bearing stud" if bearing else "nonbearing stud"
        return find(self.notches, member, f"notch limit of {self.name}")

    def stud_limits(self, stock: str, storeys_above: int, bearing: bool = True) -> StudLimit | None:
        """Spacing and height limits of a wall of `stock` under a roof and `storeys_above` floors.

        None where the table does not allow that stock there.
        """
        for row in self.studs:
            if row.stock == stock and row.bearing == bearing and row.storeys_above in (None, storeys_above):
                return row
        return None

    def shield(self, family: Family) -> ShieldRule | None:
        """When a run must be shielded from nails and screws; None for a family without a rule."""
        return self.shields.get(family)

    def support(self, size: ServiceSize) -> SupportRule | None:
        """How far apart a size is supported; None for a series without a rule."""
        rows = (row for row in self.supports if row.series == size.series and size.diameter <= row.largest + _TOLERANCE)
        return min(rows, key=lambda row: row.largest, default=None)

    def drain_slope(self, diameter: float) -> DrainSlope | None:
        """Least fall of a drain of an outside `diameter`; None past the end of the table."""
        rows = (row for row in self.slopes if diameter <= row.largest + _TOLERANCE)
        return min(rows, key=lambda row: row.largest, default=None)
