"""Plants clashes in a house spec: runs where wood, windows, boxes and other runs are, each with a way out.

Every fault is a line of the list of runs, its ids ``F01``, ``F02`` and so on; a second run of the same fault
adds a letter. Places are drawn from a seed. Lengths are inches, as in the example house.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from dataclasses import dataclass
from itertools import cycle

from panelgen import api
from panelgen.model import House, LayerKind, Member, Panel, Role, WallRun
from panelgen.spec import loads
from panelgen.units import MM_PER_INCH, inches

__all__ = ["KINDS", "Kind", "planted"]

_SYSTEMS = {"nm-12/2": "power", "nm-14/2": "data", "pex-1/2": "cold water", "emt-1/2": "power", "pvc-2": "vent"}

_JOINTS = re.compile(r"^joints:.*\n(?: .*\n)*", re.MULTILINE)

Points = list[tuple[float, float, float | str]]
Runs = list[tuple[str, Points]]
"""A size and the points of each run of a fault, inches."""


@dataclass(frozen=True)
class _Place:
    """A panel and what is drawn for it."""

    panel: Panel
    rng: random.Random

    def along(self, x: float) -> float:
        """Panel x, mm, along the wall in inches."""
        return round((x + self.panel.wall_start) / MM_PER_INCH, 3)

    def studs(self) -> list[Member]:
        """Studs that stand free: none within 6 in of them."""
        uprights = [
            one for one in self.panel.members if one.role in (Role.STUD, Role.KING, Role.JACK, Role.POST, Role.CRIPPLE)
        ]
        xs = sorted(one.frame.origin[0] for one in uprights)
        studs = [one for one in uprights if one.role is Role.STUD]
        return [one for one in studs if sum(abs(x - one.frame.origin[0]) < 152.4 for x in xs) == 1]


def _line(id: str, wall: str, size: str, points: Points) -> str:
    path = ", ".join(f"[{x:g}, {y:g}, {z if isinstance(z, str) else format(z, 'g')}]" for x, y, z in points)
    return f"  - {{id: {id}, system: {_SYSTEMS[size]}, size: {size}, wall: {wall}, path: [{path}]}}"


def _is_level(panel: Panel) -> bool:
    return {y for _, y in panel.profile} == {0.0, panel.height}


def _has_cavity(panel: Panel) -> bool:
    return any(layer.kind is LayerKind.STRAPPING for layer in panel.layers)


def _middle(stud: Member) -> float:
    return stud.frame.origin[0] + stud.frame.z[0] * stud.thickness / 2


def _inside_stud(place: _Place) -> Runs:
    """A pipe lengthwise in a stud."""
    studs = place.studs()
    if not studs:
        return []
    x = place.along(_middle(place.rng.choice(studs))) + place.rng.choice((-0.375, 0.0, 0.375))
    y = place.rng.choice((20, 24, 28))
    return [("pex-1/2", [(x, y, "framing"), (x, y + place.rng.choice((16, 24, 30)), "framing")])]


def _near_edge(place: _Place) -> Runs:
    """A conduit through a stud too near its edge."""
    studs = place.studs()
    if not studs:
        return []
    x, y = place.along(_middle(place.rng.choice(studs))), place.rng.choice((18, 22, 34))
    depth = place.rng.choice((0.625, 0.75))
    return [("emt-1/2", [(x - 7, y, depth), (x + 7, y, depth)])]


def _too_big(place: _Place) -> Runs:
    """A pipe through a stud of a bearing wall that may not lose as much; beside the stud is room for it."""
    studs = place.studs()
    if not studs or not place.panel.bearing:
        return []
    x, y = place.along(_middle(place.rng.choice(studs))), place.rng.choice((20, 26, 36))
    return [("pvc-2", [(x - 4, y, "framing"), (x + 5, y, "framing")])]


def _crossing(place: _Place) -> Runs:
    """A pipe and a cable that cross in one depth of the cavity."""
    if not _has_cavity(place.panel) or not place.studs():
        return []
    x = place.along(place.panel.length * place.rng.uniform(0.3, 0.7))
    y = place.rng.choice((8, 10))
    return [
        ("pex-1/2", [(x - 10, y, "cavity"), (x + 10, y, "cavity")]),
        ("nm-14/2", [(x, y - 5, "cavity"), (x, y + 6, "cavity")]),
    ]


def _over_window(place: _Place) -> Runs:
    """A cable across a window, where the straps beside it leave a way down or up."""
    posts = [one for one in place.panel.members if one.role is Role.STRAP and abs(one.frame.x[1]) > 0.9]
    windows = [
        window
        for window in place.panel.openings
        if window.y0 > 300.0
        and not any(
            window.id not in post.id and window.x0 - 300.0 < post.frame.origin[0] < window.x1 + 300.0 for post in posts
        )
    ]
    if not _has_cavity(place.panel) or not windows:
        return []
    window = place.rng.choice(windows)
    y = round(place.rng.uniform(window.y0 + 80, window.y1 - 80) / MM_PER_INCH)
    x0, x1 = place.along(window.x0) - place.rng.choice((5, 6)), place.along(window.x1) + place.rng.choice((5, 6))
    return [("nm-12/2", [(x0, y, "cavity"), (x1, y, "cavity")])]


def _in_barrier(place: _Place) -> Runs:
    """A cable drawn so deep that it cuts into the inner sheathing."""
    inner = next((one for one in place.panel.layers if one.kind is LayerKind.SHEATHING and one.z1 <= 0.0), None)
    if inner is None or not _has_cavity(place.panel):
        return []
    x, y = place.along(place.panel.length / 2), place.rng.choice((14, 17, 20))
    z = round(inner.z0 / MM_PER_INCH + place.rng.choice((0.0, 0.125)), 4)
    return [("nm-12/2", [(x - 9, y, z), (x + 9, y, z)])]


def _along_strap(place: _Place) -> Runs:
    """A cable that runs along in a horizontal strap."""
    rows = [
        one for one in place.panel.members if one.role is Role.STRAP and abs(one.frame.x[0]) > 0.9 and one.length > 900
    ]
    if not rows:
        return []
    strap = place.rng.choice(rows)
    y = round((strap.frame.origin[1] + strap.width / 2) / MM_PER_INCH, 2)
    x = place.along(strap.frame.origin[0] + strap.length / 2)
    return [("nm-12/2", [(x - 8, y, "cavity"), (x + 8, y, "cavity")])]


def _side_by_side(place: _Place) -> Runs:
    """Two cables in the same place for a stretch."""
    if not _has_cavity(place.panel):
        return []
    x, y = place.along(place.panel.length * place.rng.uniform(0.35, 0.65)), place.rng.choice((40, 42, 44))
    if any(one.x0 - 600 < place.panel.length / 2 < one.x1 + 600 for one in place.panel.openings):
        return []
    shift = place.rng.choice((0.0, 0.125, 0.25))
    return [
        ("nm-12/2", [(x - 8, y, "cavity"), (x + 5, y, "cavity")]),
        ("nm-14/2", [(x - 4, y + shift, "cavity"), (x + 9, y + shift, "cavity")]),
    ]


def _through_box(place: _Place) -> Runs:
    """A cable that passes through a box that belongs to another."""
    if not place.panel.boxes:
        return []
    box = place.panel.boxes[0]
    middle = box.frame.point(box.size[0] / 2, box.size[1] / 2, 0.0)
    x, y = place.along(middle[0]), round(middle[1] / MM_PER_INCH + place.rng.choice((-1.25, 1.0, 1.5)), 3)
    return [("nm-14/2", [(x + 0.5, y - 9, "cavity"), (x + 0.5, y + 9, "cavity")])]


Kind = Callable[[_Place], Runs]

KINDS: tuple[Kind, ...] = (
    _inside_stud, _near_edge, _too_big, _crossing, _over_window, _in_barrier, _along_strap, _side_by_side, _through_box,
)  # fmt: skip


def planted(text: str, count: int, seed: int) -> str:
    """The text of a spec with `count` clashes more, each in a panel of its own.

    Raises ValueError where there is not enough room for as many.
    """
    house = api.design(loads(text))
    rng = random.Random(seed)
    lines: list[str] = []
    used: set[str] = set()
    fruitless = 0
    for kind in cycle(KINDS):
        if len(used) == count or fruitless > len(KINDS):
            break
        found = _drawn(house, kind, rng, f"F{len(used) + 1:02d}", used)
        fruitless = 0 if found else fruitless + 1
        lines += found
    if len(used) < count:
        raise ValueError(f"there is room for {len(used)} clashes only")
    head, mark, rest = _JOINTS.sub("", text).partition("\nsleeves:")
    return f"{head.rstrip()}\n{chr(10).join(lines)}\n\n{_joints(house)}{mark}{rest}"


def _joints(house: House) -> str:
    """The joints of the house as it is, for the runs to be planted where they clash and not where they move a joint."""
    kept = [(one.wall, at / MM_PER_INCH) for one in house.partitions for at in one.joints]
    return "joints:\n" + "".join(f"  - {{wall: {wall}, at: {at:.6f}}}\n" for wall, at in kept)


def _drawn(house: House, kind: Kind, rng: random.Random, id: str, used: set[str]) -> list[str]:
    """Lines of one kind of fault in a panel drawn at random that is not `used` yet; it is added to those."""
    panels = [panel for panel in house.panels if panel.label not in used and _is_level(panel)]
    rng.shuffle(panels)
    for panel in panels:
        runs = kind(_Place(panel, rng))
        wall = next(one for one in house.walls if one.id == panel.wall)
        if runs and all(_is_on(panel, wall, points) for _, points in runs):
            used.add(panel.label)
            return [_line(name, panel.wall, *run) for name, run in zip((id, f"{id}b"), runs, strict=False)]
    return []


def _is_on(panel: Panel, wall: WallRun, points: Points) -> bool:
    """Whether a run keeps to its wall and does not end in an opening, where no way around could start."""
    low, high = wall.start, wall.start + wall.length
    ends = [(inches(x) - panel.wall_start, inches(y)) for x, y, _ in (points[0], points[-1])]
    inside = any(one.x0 < x < one.x1 and one.y0 < y < one.y1 for one in panel.openings for x, y in ends)
    return all(low < inches(x) < high for x, _, _ in points) and not inside
