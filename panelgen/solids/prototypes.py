"""Each distinct shape once: a shop of solids that hands the same kernel shape to every equal part."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from panelgen.errors import GeometryError
from panelgen.geometry.lofts import Body
from panelgen.geometry.mitres import Tube
from panelgen.solids.cuts import body_solids
from panelgen.solids.tubes import tube_solid
from panelgen.solids.verdicts import all_valid

__all__ = ["Prototypes"]


class Prototypes:
    """Shapes by what they look like. Keep one for a house, so that equal sticks share a shape.

    New shapes are proven in lots by `prove`; a shape is not to be used before.
    """

    def __init__(self) -> None:
        self._shapes: dict[Body | Tube, tuple[Any, ...]] = {}
        self._unproven: list[tuple[str, Any]] = []

    def __len__(self) -> int:
        return len(self._shapes)

    def of_body(self, part: str, body: Body, volume: Callable[[], float]) -> tuple[Any, ...]:
        """The solids of a body, mostly one; `part` is named if it cannot be made.

        `volume` (mm3) is asked if the kernel must cut it. Raises GeometryError if the kernel cannot.
        """
        solids = self._shapes.get(body)
        if solids is None:
            try:
                solids = tuple(body_solids(body, 0.0 if body.is_plain else volume()))
            except GeometryError as error:
                raise GeometryError(f"part {part}: {error}") from error
            self._keep(part, body, solids)
        return solids

    def of_tube(self, part: str, tube: Tube) -> tuple[Any, ...]:
        """The solid of a tube, alone in a tuple; `part` is named if it turns out invalid."""
        solids = self._shapes.get(tube)
        if solids is None:
            solids = (tube_solid(tube),)
            self._keep(part, tube, solids)
        return solids

    def prove(self) -> None:
        """Have the kernel check every shape made since the last call. Raises GeometryError naming bad parts."""
        lot, self._unproven = self._unproven, []
        if not all_valid([shape for _, shape in lot]):
            bad = [part for part, shape in lot if not all_valid((shape,))]
            raise GeometryError(f"the kernel finds these solids invalid: {', '.join(bad)}")

    def _keep(self, part: str, key: Body | Tube, solids: tuple[Any, ...]) -> None:
        self._shapes[key] = solids
        self._unproven += [(part, solid) for solid in solids]
