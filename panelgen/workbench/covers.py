"""Floors, ceilings, roofs and dormers on the desk: where each stands in the spec, and what there is to turn of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from panelgen.model import Panel, PanelKind
from panelgen.spec import HouseSpec
from panelgen.spec.floors import DeckOpening, DeckSpec
from panelgen.spec.lines import Path
from panelgen.spec.roofs import DormerSpec, RoofOpening, RoofSpec
from panelgen.workbench.fields import Control
from panelgen.workbench.things import Controls, Thing

__all__ = ["Cover", "cover_of", "truss_row"]

_Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Cover:
    """What a panel is a part of that is no wall: its model at `path` of the spec; `name` is the assembly in force.

    `edge` is that of the plane of a roof. `along` and `up` say what places in it are called, and how far they go, mm.
    """

    title: str
    model: DeckSpec | RoofSpec | DormerSpec
    path: Path
    name: str
    along: tuple[str, _Span]
    up: tuple[str, _Span]
    edge: str = ""

    def things(self, panel: Panel, controls: Controls) -> Iterator[Thing]:
        """What there is to turn of it besides its layers and services: itself, its openings, beams and joints."""
        word = self.title.partition(" ")[0].lower()
        yield Thing("cover", self.title, controls.of(self.model, self.path), f"All panels of the {word} follow.")
        model, path = self.model, self.path
        if isinstance(model, DormerSpec):
            return
        if isinstance(model, RoofSpec):
            for n, edge in enumerate(model.edges):
                if edge.edge == self.edge:
                    yield Thing(f"edge {edge.edge}", f"Edge {edge.edge}", controls.of(edge, (*path, "edges", n)))
        here = {opening.id for opening in panel.openings}
        openings: Sequence[DeckOpening | RoofOpening] = model.openings
        for n, opening in enumerate(openings):
            if opening.id in here:
                yield self._opening(opening, (*path, "openings", n), controls)
        if isinstance(model, DeckSpec):
            for n, beam in enumerate(model.beams):
                yield Thing(f"beam {beam.id}", f"Beam {beam.id}", controls.of(beam, (*path, "beams", n)))
        yield Thing("joints", "Joints asked for", tuple(self._pins(controls)), f"Panels of the {word} meet there.")

    def _opening(self, opening: DeckOpening | RoofOpening, path: Path, controls: Controls) -> Thing:
        """The place, the size and the kind of an opening."""
        names = ("size along x", "size along y") if isinstance(opening, DeckOpening) else ("width", "length")
        made = [
            controls.length(((*path, "at", axis),), label, opening.at[axis], reach)
            for axis, (label, reach) in enumerate((self.along, self.up))
        ]
        made += [
            controls.length(((*path, "size", axis),), label, opening.size[axis]) for axis, label in enumerate(names)
        ]
        return Thing(f"opening {opening.id}", f"Opening {opening.id}", (*made, *controls.of(opening, path)))

    def _pins(self, controls: Controls) -> Iterator[Control]:
        """The joints that the spec asks for: all of a deck's, those of the plane's edge of a roof."""
        if isinstance(self.model, RoofSpec):
            places = [(n, one.at) for n, one in enumerate(self.model.joints) if one.edge == self.edge]
        elif isinstance(self.model, DeckSpec):
            places = [(n, one.at) for n, one in enumerate(self.model.joints)]
        else:
            places = []
        for n, at in places:
            yield controls.length(((*self.path, "joints", n, "at"),), f"joint {n + 1}", at)


def cover_of(spec: HouseSpec, panel: Panel) -> Cover | None:
    """The cover that a panel is a part of; None for one of a wall."""
    for n, roof in enumerate(spec.roofs):
        for k, opening in enumerate(roof.openings):
            if opening.dormer is not None and panel.dormer == opening.id:
                path: Path = ("roofs", n, "openings", k, "dormer")
                assembly = opening.dormer.assembly if panel.kind is PanelKind.ROOF else opening.dormer.walls
                return Cover(f"Dormer {opening.id}", opening.dormer, path, assembly, *_on_panel(panel))
        level = next(level for level in spec.levels if level.id == roof.level)
        for edge, _ in roof.corners(level):
            if panel.wall.partition(".")[0] == roof.plane(edge) and panel.kind is PanelKind.ROOF:
                return Cover(f"Roof {roof.id}", roof, ("roofs", n), roof.assembly, *_on_panel(panel), edge)
    for section, word, decks in (("floors", "Floor", spec.floors), ("ceilings", "Ceiling", spec.ceilings)):
        for n, deck in enumerate(decks):
            if deck.id == panel.wall:
                ring = deck.ring(next(level for level in spec.levels if level.id == deck.level))
                xs, ys = (tuple(axis) for axis in zip(*ring, strict=True))
                spans = ("x", (min(xs), max(xs))), ("y", (min(ys), max(ys)))
                return Cover(f"{word} {deck.id}", deck, (section, n), deck.assembly, *spans)
    return None


def truss_row(spec: HouseSpec, label: str, controls: Controls) -> tuple[Thing, ...]:
    """What there is to turn of a row of trusses; nothing where no row has that label."""
    return tuple(
        Thing("cover", f"Trusses {row.id}", controls.of(row, ("trusses", n)), "Their design is their engineer's.")
        for n, row in enumerate(spec.trusses)
        if label == f"trusses {row.id}"
    )


def _on_panel(panel: Panel) -> tuple[tuple[str, _Span], tuple[str, _Span]]:
    """Places on a slope: along its edge and up it, as far as the panel goes."""
    along = (panel.wall_start, panel.wall_start + panel.length)
    return ("place along the edge", along), ("place up the slope", (panel.wall_base, panel.wall_base + panel.height))
