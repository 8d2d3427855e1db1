"""End studs, corner posts and the studs that back another wall where it meets this one."""

from __future__ import annotations

from panelgen.design.brief import PanelBrief, Tee
from panelgen.design.framing.uprights import Uprights
from panelgen.model import Role, Why

__all__ = ["BITE", "stand_ends", "stand_meeting_studs"]

BITE = 25.0
"""How far (mm) a meeting stud stands proud of the other wall's face, to take straps and interior board."""


def stand_ends(studs: Uprights, name: str) -> None:
    """The first and last stud of the panel."""
    brief = studs.brief
    for side, x in (("left", 0.0), ("right", brief.length - studs.thickness)):
        words = "end stud: closes the panel and takes the screws to its neighbour"
        at = round(brief.wall_start + (0.0 if side == "left" else brief.length))
        studs.full(f"{name}/end-stud-{side}@{at}", Role.STUD, x, Why("stud.end", words, "common practice, no source"))
    _back_inner_corners(studs, name)


def _back_inner_corners(studs: Uprights, name: str) -> None:
    """A second end stud where the straps start beyond the first: it takes them and the board at the inside corner."""
    brief, t = studs.brief, studs.thickness
    if brief.assembly.strapping is None:
        return
    why = Why("stud.inner-corner", "backs straps and interior board at the inside corner", "common practice, no source")
    for side, starts_at, x in (
        ("left", brief.strap_span[0], t),
        ("right", brief.length - brief.strap_span[1], brief.length - 2 * t),
    ):
        if starts_at > t / 2:
            at = round(brief.wall_start + (0.0 if side == "left" else brief.length))
            studs.full(f"{name}/corner-stud-{side}@{at}", Role.POST, x, why)


def stand_meeting_studs(studs: Uprights, name: str) -> None:
    """Two studs where another wall meets this one, each straddling a face of that wall.

    The part behind the wall takes its screws; the part beside it backs straps and interior board at
    the inside corner. At a panel end the end stud does for the outer one.
    """
    brief = studs.brief
    for tee in (*brief.corners, *brief.tees):
        kind = "corner" if tee in brief.corners else "tee"
        source = "IBC 2308.5.2: three studs at a corner" if kind == "corner" else "common practice, no source"
        why = Why(f"post.{kind}", f"backs wall {tee.wall} and the interior board beside it", source)
        for side, x in _places(brief, tee, studs.thickness):
            _nearest_free(studs, f"{name}/post-{tee.wall}-{side}", x, why)


def _places(brief: PanelBrief, tee: Tee, thickness: float) -> list[tuple[str, float]]:
    left, right = tee.framing
    places = [("left", left - BITE), ("right", right + BITE - thickness)]
    return [(side, x) for side, x in places if x > thickness / 2 and x + 1.5 * thickness < brief.length]


def _nearest_free(studs: Uprights, id: str, x: float, why: Why) -> None:
    """Stand the stud at x, or else slid up to the stick in its way; give up where a stick backs the place already."""
    if studs.full(id, Role.POST, x, why):
        return
    for shift in (0.25, -0.25, 0.5, -0.5):
        if studs.full(id, Role.POST, x + shift * studs.thickness, why):
            return
