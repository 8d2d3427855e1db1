"""End studs, corner posts, posts under loads, and the studs that back another wall where it meets this one."""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.design.brief import PanelBrief, Tee
from panelgen.design.framing.uprights import Uprights
from panelgen.model import Role, Why

__all__ = ["BITE", "stand_ends", "stand_meeting_studs", "stand_under_loads"]

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


def stand_under_loads(studs: Uprights, name: str, reach: float) -> None:
    """As many full-height studs within `reach` (mm) of each load as it takes: those that stand there count.

    Where an opening or the end of the panel leaves no room for more, they are left out.
    """
    for post in studs.brief.posts:
        why = Why("post.load", f"carries {post.words} down", post.source)
        for n in range(post.count):
            near = studs.full_near(post.x, reach)
            if len(near) >= post.count:
                break
            for x in _beside(post.x, near, studs.thickness, reach):
                if studs.full(f"{name}/post-under-{post.name}-{n + 1}", Role.POST, x, why):
                    break


def _beside(x: float, near: Sequence[tuple[float, float]], thickness: float, reach: float) -> list[float]:
    """Left faces of studs close to x: at it, or flush with one that is near; the nearest first."""
    faces = [x - thickness / 2, *(b for _, b in near), *(a - thickness for a, _ in near)]
    middles = ((abs(face + thickness / 2 - x), face) for face in faces)
    return [face for away, face in sorted(middles) if away <= reach]


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
