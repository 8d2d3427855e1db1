"""All obstacles of a pipe as arrays of open boxes that its axis keeps out of."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats, Vec3
from panelgen.geometry.rods import Bools
from panelgen.routing.bodies import Body, Cause, Obstacle, Slab
from panelgen.routing.pipe import Pipe, Reach

__all__ = ["Barred", "OpenBoxes"]


@dataclass(frozen=True, slots=True, eq=False)
class OpenBoxes:
    """n open boxes, `low` to `high` (n, 3) mm; `cause` (n,) is an index; `bars` and `guides` (n, 3) as in `Body`."""

    low: Floats
    high: Floats
    cause: Ints
    bars: Bools
    guides: Bools

    def __len__(self) -> int:
        return len(self.cause)

    def take(self, rows: Ints | Bools) -> OpenBoxes:
        """The boxes of these rows."""
        return OpenBoxes(self.low[rows], self.high[rows], self.cause[rows], self.bars[rows], self.guides[rows])

    @classmethod
    def joined(cls, tables: Sequence[OpenBoxes]) -> OpenBoxes:
        """The rows of several tables, one table after the other."""
        names = ("low", "high", "cause", "bars", "guides")
        return cls(*(np.concatenate([getattr(table, name) for table in tables]) for name in names))


@dataclass(frozen=True, slots=True, eq=False)
class Barred:
    """What the axis of a pipe keeps out of: its legs along x, y and z, its turns, and the arms of its turns.

    Boxes for legs and arms along an axis are grown across it only: a leg may end at what lies ahead.
    """

    causes: tuple[Cause, ...]
    legs: tuple[OpenBoxes, OpenBoxes, OpenBoxes]
    turns: OpenBoxes
    arms: tuple[OpenBoxes, OpenBoxes, OpenBoxes]

    @classmethod
    def of(cls, obstacles: Iterable[Obstacle], pipe: Pipe) -> Barred:
        """The boxes for a pipe."""
        listed = list(obstacles)
        slabs = [one for one in listed if isinstance(one, Slab)]
        causes = tuple(dict.fromkeys(one.cause for one in listed))
        number = {cause: index for index, cause in enumerate(causes)}
        bodies = _Bodies.of([one for one in listed if isinstance(one, Body)], number)
        legs, arms = [], []
        for axis in range(3):
            grown = bodies.legs(axis, pipe.kept_clear(axis))
            legs.append(OpenBoxes.joined((grown.take(grown.bars[:, axis]), _open(slabs, axis, number))))
            arms.append(bodies.legs(axis, pipe.turn_half[axis]))
        return cls(causes, (legs[0], legs[1], legs[2]), bodies.turns(pipe.turn_half), (arms[0], arms[1], arms[2]))


@dataclass(frozen=True, slots=True, eq=False)
class _Bodies:
    """The bodies as they are, the margin (n, 1) kept from each, mm, and which of them (n, 1) see round ends."""

    boxes: OpenBoxes
    margin: Floats
    rounds: Bools

    @classmethod
    def of(cls, bodies: Sequence[Body], number: Mapping[Cause, int]) -> _Bodies:
        boxes = OpenBoxes(
            np.array([body.low for body in bodies], dtype=float).reshape(-1, 3),
            np.array([body.high for body in bodies], dtype=float).reshape(-1, 3),
            np.array([number[body.cause] for body in bodies], dtype=np.int64),
            np.array([body.bars for body in bodies], dtype=bool).reshape(-1, 3),
            np.array([body.guides for body in bodies], dtype=bool).reshape(-1, 3),
        )
        return cls(
            boxes,
            np.array([body.margin for body in bodies], dtype=float).reshape(-1, 1),
            np.array([body.is_round_to_ends for body in bodies], dtype=bool).reshape(-1, 1),
        )

    def legs(self, axis: int, half: Vec3) -> OpenBoxes:
        """The boxes where the axis of a leg along `axis` does not go: grown across it, and along it for round ends."""
        across = np.array(half)
        across[axis] = 0.0
        return self._grown(np.where(self.rounds, max(half), across))

    def turns(self, half: Reach) -> OpenBoxes:
        """The boxes where no leg turns: grown all round."""
        return self._grown(np.max(half, axis=0))

    def _grown(self, half: Floats) -> OpenBoxes:
        room = half + self.margin
        return replace(self.boxes, low=self.boxes.low - room, high=self.boxes.high + room)


def _open(slabs: Sequence[Slab], axis: int, number: Mapping[Cause, int]) -> OpenBoxes:
    own = [slab for slab in slabs if slab.axis == axis]
    return OpenBoxes(
        np.array([slab.low for slab in own], dtype=float).reshape(-1, 3),
        np.array([slab.high for slab in own], dtype=float).reshape(-1, 3),
        np.array([number[slab.cause] for slab in own], dtype=np.int64),
        np.ones((len(own), 3), dtype=bool),
        np.ones((len(own), 3), dtype=bool),
    )
