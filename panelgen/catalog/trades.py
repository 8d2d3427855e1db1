"""Wood that later trades need in a wall, by what they hang on it."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from panelgen.catalog.loading import DataFolder
from panelgen.catalog.rows import Fact

__all__ = ["Trade", "TradeBacking", "read_trade_backing"]

Trade = Literal["board", "kitchen", "grab bar", "handrail", "stair", "equipment"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeBacking(Fact):
    """One row of backing for a `trade`, centred `height` mm above the floor; infinite where the spec must say.

    It carries up to `load` kg, infinite for any. `behind` asks for blocking between the studs behind a strap too.
    """

    trade: Trade
    row: str
    height: float
    stock: str
    load: float
    behind: bool


def read_trade_backing(data: DataFolder, lumber: Iterable[str]) -> tuple[TradeBacking, ...]:
    """The rows of backing, lightest first within a trade as the table has them."""
    known = dict.fromkeys(lumber)
    return tuple(
        TradeBacking(
            trade=row.choice("trade", Trade),
            row=row.text("row"),
            height=row.inches("height"),
            stock=row.key("stock", known),
            load=math.inf if row.text("up_to_kg") == "any" else row.number("up_to_kg"),
            behind=row.yes("behind"),
            **row.citation(),
        )
        for row in data.records("trade_backing")
    )
