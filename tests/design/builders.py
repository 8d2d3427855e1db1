"""Panel briefs built by hand, so that each room of the design can be tried alone."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from panelgen.catalog import Catalog
from panelgen.design.brief import OpeningBrief, PanelBrief, Span, Tee
from panelgen.design.framing.blocking import blocking
from panelgen.design.framing.wall import frame_panel
from panelgen.design.sheathing.sheets import joint_heights
from panelgen.design.walls.plan import layer_stack
from panelgen.geometry.frames import WORLD, Point2
from panelgen.model import LayerKind, Member, WallRun
from panelgen.spec.assemblies import Assembly
from panelgen.spec.house import DesignData, Shop
from panelgen.spec.services import BackingSpec

__all__ = ["FOOT", "INCH", "assembly", "blocked", "brief", "door", "frame", "tee", "window"]

INCH = 25.4
FOOT = 304.8


def assembly(**framing: Any) -> Assembly:
    """Sheathing on both faces of 2x6 studs at 24 in., and a service cavity of 2x3 straps."""
    return Assembly.model_validate(
        {
            "layers": [
                {"layer": "sheathing", "product": "osb-7/16", "barrier": "weather", "gap": 3.175},
                {"layer": "framing", "stock": "2x6", "spacing": 609.6, **framing},
                {"layer": "sheathing", "product": "osb-7/16", "barrier": "air", "gap": 3.175},
                {"layer": "strapping", "stock": "2x3", "spacing": 609.6},
            ]
        }
    )


def window(x0: float, x1: float, y0: float, y1: float, id: str = "w1") -> OpeningBrief:
    """A window's rough opening."""
    return OpeningBrief(id, "window", x0, x1, y0, y1, x1 - x0 - INCH, y1 - y0 - INCH)


def door(x0: float, x1: float, y1: float, id: str = "d1") -> OpeningBrief:
    """A door's rough opening, down to the floor."""
    return OpeningBrief(id, "door", x0, x1, 0.0, y1, x1 - x0 - INCH, y1 - INCH / 2)


def brief(
    length: float,
    top: float | Sequence[Point2] = 8 * FOOT,
    *openings: OpeningBrief,
    walls: Assembly | None = None,
    outer_span: Span | None = None,
    inner_span: Span | None = None,
    strap_span: Span | None = None,
    wall_start: float = 0.0,
    joined: tuple[bool, bool] = (False, False),
    tees: tuple[Tee, ...] = (),
    backing: tuple[BackingSpec, ...] = (),
    shop: Shop | None = None,
    catalog: Catalog | None = None,
) -> PanelBrief:
    """An exterior bearing panel; `top` is its height or the line of its top."""
    catalog = catalog or Catalog.default()
    walls = walls or assembly()
    layers = layer_stack(walls, catalog)
    framing = next(layer for layer in layers if layer.kind is LayerKind.FRAMING)
    spacing = walls.framing.spacing
    first = -(-wall_start // spacing)
    count = int((wall_start + length) // spacing - first) + 1
    whole = (0.0, length)
    return PanelBrief(
        label="1W01",
        level="1",
        wall=WallRun("A", "1", WORLD, 0.0, wall_start + length, framing.thickness, True, True),
        wall_start=wall_start,
        length=length,
        top=((0.0, float(top)), (length, float(top))) if isinstance(top, (int, float)) else tuple(top),
        frame=WORLD,
        layers=layers,
        assembly=walls,
        openings=openings,
        layout=tuple((first + n) * spacing - wall_start for n in range(count)),
        tees=tees,
        corners=(),
        outer_span=outer_span or whole,
        inner_span=inner_span or whole,
        strap_span=strap_span or whole,
        joined=joined,
        lapped=joined,
        storeys_above=0,
        backing=backing,
        design=DesignData(ground_snow=1.4364, building_width=7315.2),
        shop=shop or Shop(),
        rules="irc-2021",
        catalog=catalog,
    )


def frame(panel: PanelBrief) -> tuple[Member, ...]:
    """The framing that the shop puts in the panel."""
    return frame_panel(panel, panel.catalog.rules(panel.rules)).members


def blocked(panel: PanelBrief) -> tuple[Member, ...]:
    """The framing, and the blocking behind the horizontal joints of its sheathing."""
    framing = frame(panel)
    heights = sorted({y for side in ("outer", "inner") for y in joint_heights(panel, side)})
    return (*framing, *blocking(panel, framing, heights)[0])


def tee(x: float, id: str = "P1") -> Tee:
    """A partition of 2x4 studs with board on both faces that meets the inner face, its middle at x."""
    return Tee(id, (x - 56.0, x + 56.0), (x - 44.5, x + 44.5))
