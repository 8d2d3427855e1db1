"""What a route must keep to as a whole, which none of its legs shows by itself."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from panelgen.catalog import RuleSet
from panelgen.checks.holes.doubled import CONTACT
from panelgen.design.straps.obstacles import STRAP_CLEARANCE
from panelgen.geometry.frames import Vec3, add
from panelgen.routing.bodies import Cause, Slab
from panelgen.routing.pipe import Pipe
from panelgen.routing.straps import Strap
from panelgen.routing.wood import Crossing

__all__ = ["crossed", "cut_once", "self_crossing", "too_many_doubled"]


def crossed(crossings: Sequence[Crossing], points: Sequence[Vec3]) -> tuple[Crossing, ...]:
    """The sticks that a way goes through, in order."""
    found: list[Crossing] = []
    for a, b in pairwise(points):
        axis = max(range(3), key=lambda k: abs(b[k] - a[k]))
        met = [one for one in crossings if one.axis == axis and one.is_between(a, b)]
        found += sorted(met, key=lambda one: one.low[axis], reverse=b[axis] < a[axis])
    return tuple(found)


def cut_once(straps: tuple[Strap, ...], points: Sequence[Vec3], pipe: Pipe, shortest: float) -> tuple[Strap, ...]:
    """The straps as they are, or with one that the way cuts twice taken to be cut where it is crossed first.

    That is where a piece between two crossings would be shorter than `shortest`, mm, or without framing
    behind it: the next search then keeps the second crossing away from the first.
    """
    for index, strap in enumerate(straps):
        reach = pipe.half[1 - strap.along][strap.along] + STRAP_CLEARANCE
        places = [a[strap.along] for a, b in pairwise(points) if strap.is_crossed(a, b, reach)]
        for low, high in pairwise(sorted(places)):
            if high - low > 2 * reach and not strap.keeps((low + reach, high - reach), shortest):
                return (*straps[:index], *strap.cut(places[0], reach), *straps[index + 1 :])
    return straps


def self_crossing(points: Sequence[Vec3], pipe: Pipe) -> Slab | None:
    """What bars a way that meets itself from doing so again: the place where it does, closed to the later leg."""
    legs = list(pairwise(points))
    for later, (c, d) in enumerate(legs):
        axis = max(range(3), key=lambda k: abs(d[k] - c[k]))
        for a, b in legs[: max(0, later - 1)]:
            low, high = ([pick(a[k], b[k]) for k in range(3)] for pick in (min, max))
            room = add(pipe.half[axis], pipe.half[axis])
            near = [min(c[k], d[k]) < high[k] + room[k] and max(c[k], d[k]) > low[k] - room[k] for k in range(3)]
            if all(near):
                cause = Cause(pipe.run, "the run itself")
                least, most = ((low[k] - room[k] for k in range(3)), (high[k] + room[k] for k in range(3)))
                return Slab(axis, _vec(least), _vec(most), cause)
    return None


def _vec(values: Iterable[float]) -> Vec3:
    x, y, z = values
    return (x, y, z)


def too_many_doubled(bored: Sequence[Crossing], rules: RuleSet) -> bool:
    """Whether more doubled studs of one panel are bored beyond the limit of a single one than may be in a row.

    Studs that stand against each other are one place. Studs between them that keep the limit are not
    minded, which errs on the safe side.
    """
    most = rules.stud_bore(bearing=True, doubled=True).successive
    if most is None:
        return False
    places: dict[str, list[Crossing]] = {}
    for crossing in sorted((one for one in bored if one.doubled), key=lambda one: one.low):
        of_panel = places.setdefault(crossing.panel.label, [])
        if not of_panel or crossing.low[0] - of_panel[-1].high[0] > CONTACT:
            of_panel.append(crossing)
        else:
            of_panel[-1] = crossing
    return any(len(of_panel) > most for of_panel in places.values())
