"""What there is to turn about one panel: its wall or cover, layers, openings, services, backing and seals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from panelgen.model import Panel, Role
from panelgen.spec.assemblies import FramingLayer, LayerSpec, SheathingLayer
from panelgen.spec.services import RunSpec
from panelgen.workbench.covers import cover_of
from panelgen.workbench.fields import Control
from panelgen.workbench.redesign import Design
from panelgen.workbench.things import Controls, Thing
from panelgen.workbench.walls import wall_place

__all__ = ["thing_of", "things"]

_EQUAL = 1e-6  # mm


def things(design: Design, panel: Panel) -> tuple[Thing, ...]:
    """Everything of the spec of a design that shapes a panel, from its wall to what hangs on it and seals it."""
    maker = _Maker(design, panel)
    made = (
        *maker.wall(),
        *maker.cover(),
        *maker.layers(),
        *maker.openings(),
        *maker.runs(),
        *maker.boxes(),
        *maker.backing(),
        *maker.seals(),
    )
    return tuple(thing for thing in made if thing.controls)


def thing_of(panel: Panel, part: str) -> str:
    """The id of the thing that a part of the panel comes from; empty where there is none."""
    for member in panel.members:
        if member.id == part:
            return "strapping" if member.role is Role.STRAP else "framing"
    for sheet in panel.sheets:
        if sheet.id == part:
            return sheet.layer
    for run in panel.runs:
        if part in (run.id, run.run):
            return f"run {run.run}"
    if any(one.id == part for one in panel.openings):
        return f"opening {part}"
    return f"box {part}" if any(box.id == part for box in panel.boxes) else ""


class _Maker:
    """Makes the things of one panel."""

    def __init__(self, design: Design, panel: Panel) -> None:
        self._spec, self._panel, self._catalog = design.spec, panel, design.catalog
        self._controls = Controls(design.spec, design.catalog)
        self._joints = design.house.joints
        self._place = wall_place(design.spec, panel.wall)
        self._cover = cover_of(design.spec, panel)
        ends = [wall.start + wall.length for wall in design.house.walls if wall.id == panel.wall]
        self._along = "place along the wall", (0.0, max(ends, default=panel.length))
        self._up = "height", (0.0, panel.height)
        if self._cover is not None:
            self._along, self._up = self._cover.along, self._cover.up

    def wall(self) -> Iterator[Thing]:
        """The wall itself, where the panel is of one: what it is made of, and how high it is."""
        place = self._place
        if place is None:
            return
        own = [
            replace(one, value=place.assembly, text=place.assembly, optional=False) if one.label == "assembly" else one
            for one in self._controls.of(place.wall, place.path)
        ]
        level = [
            replace(one, label=f"level {one.label}")
            for one in self._controls.of(place.level, place.level_path)
            if one.label == "height"
        ]
        note = f"The height is that of every wall of level {place.level.id} that has none of its own."
        yield Thing("wall", f"Wall {self._panel.wall}", (*level, *own), note)

    def cover(self) -> Iterator[Thing]:
        """The floor, ceiling, roof or dormer itself, where the panel is of one."""
        if self._cover is not None:
            yield from self._cover.things(self._panel, self._controls)

    def layers(self) -> Iterator[Thing]:
        """The layers of its assembly, from outside to inside."""
        name = self._place.assembly if self._place else self._cover.name if self._cover else None
        if name is None:
            return
        assembly = self._spec.assemblies[name]
        for k, layer in enumerate(assembly.layers):
            title = _layer_title(layer, assembly.outer_sheathing is layer)
            made = self._controls.of(layer, ("assemblies", name, "layers", k))
            controls = tuple(one for one in made if self._place or one.label != "top plates")
            yield Thing(title.lower(), title, controls, f"Every panel of assembly {name} follows.")

    def openings(self) -> Iterator[Thing]:
        """The openings in the panel, each with the unit that fills it."""
        here = {opening.id for opening in self._panel.openings}
        for k, opening in enumerate(self._spec.openings):
            if opening.id in here:
                own = self._controls.of(opening, ("openings", k), {"center": self._along[1], "sill": self._up[1]})
                unit = self._controls.of(self._spec.unit_types[opening.type], ("unit_types", opening.type))
                note = f"Size and clearance are those of every {opening.type}."
                yield Thing(f"opening {opening.id}", f"Opening {opening.id}", (*own, *unit), note)

    def runs(self) -> Iterator[Thing]:
        """The runs that pass the panel; points at one height or one place along are moved together."""
        here = {part.run for part in self._panel.runs}
        for k, run in enumerate(self._spec.runs):
            if run.id in here:
                own = [self._of_family(one) for one in self._controls.of(run, ("runs", k))]
                controls = (*self._points(run, k), *own)
                yield Thing(f"run {run.id}", f"Run {run.id}, {run.system}", controls)

    def boxes(self) -> Iterator[Thing]:
        """The boxes in the panel."""
        here = {box.id for box in self._panel.boxes}
        for k, box in enumerate(self._spec.boxes):
            if box.id in here:
                at = [
                    self._controls.length((("boxes", k, "at", axis),), label, box.at[axis], reach)
                    for axis, (label, reach) in enumerate((self._along, self._up))
                ]
                yield Thing(f"box {box.id}", f"Box {box.id}", (*at, *self._controls.of(box, ("boxes", k))))

    def backing(self) -> Iterator[Thing]:
        """The backing in the panel."""
        first, last = self._panel.wall_start, self._panel.wall_start + self._panel.length
        reach = {"start": self._along[1], "end": self._along[1], "height": self._up[1]}
        for k, backing in enumerate(self._spec.backing):
            if backing.wall == self._panel.wall and backing.end > first and backing.start < last:
                controls = self._controls.of(backing, ("backing", k), reach)
                yield Thing(f"backing {backing.id}", f"Backing {backing.id}", controls, f"For: {backing.reason}.")

    def seals(self) -> Iterator[Thing]:
        """The entries of the spec that seal joints of the panel."""
        here = {joint.kind for joint in self._joints if self._panel.label in joint.panels}
        for k, seal in enumerate(self._spec.seals):
            if seal.joint in here if seal.between is None else self._panel.label in seal.between:
                what = f"{seal.joint} joints" if seal.between is None else " and ".join(seal.between)
                note = "Later entries win." if len(self._spec.seals) > 1 else ""
                yield Thing(f"seal {k + 1}", f"Seal of {what}", self._controls.of(seal, ("seals", k)), note)

    def _of_family(self, control: Control) -> Control:
        """The sizes of a run narrowed down to those that are made as the one it has."""
        if control.label != "size" or control.value is None:
            return control
        sizes = self._catalog.service_sizes
        family = sizes[control.value].family
        return replace(control, choices=tuple(name for name in control.choices if sizes[name].family == family))

    def _points(self, run: RunSpec, k: int) -> Iterator[Control]:
        """Controls of the points of a run that is drawn in the wall; one drawn in the house has none."""
        if run.wall is None:
            return
        for axis, (name, reach) in ((1, self._up), (0, self._along)):
            lots: list[tuple[float, list[int]]] = []
            for number, point in enumerate(run.path):
                value = float(point[axis])
                same = next((lot for at, lot in lots if abs(at - value) < _EQUAL), None)
                if same is None:
                    lots.append((value, [number]))
                else:
                    same.append(number)
            for value, numbers in lots:
                label = name if len(lots) == 1 else f"{name}, {_points_named(numbers)}"
                paths = tuple(("runs", k, "path", number, axis) for number in numbers)
                yield self._controls.length(paths, label, value, reach)


def _layer_title(layer: LayerSpec, is_outer: bool) -> str:
    if isinstance(layer, SheathingLayer):
        return "Outer sheathing" if is_outer else "Inner sheathing"
    return "Framing" if isinstance(layer, FramingLayer) else "Strapping"


def _points_named(numbers: Sequence[int]) -> str:
    """``point 2`` or ``points 2, 3``, counted from one."""
    return f"point{'s' if len(numbers) > 1 else ''} {', '.join(str(number + 1) for number in numbers)}"
