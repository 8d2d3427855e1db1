"""The parts of a panel as a person sees them: what each is, what it looks like and when it is built in.

The steps are the order in which one part can be laid on another: framing, its nails, outer sheathing, units,
services in the framing, inner sheathing, straps, services in the cavity, insulation. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from panelgen.model import Fasteners, Panel, Role, Why
from panelgen.model.groups import layer_groups
from panelgen.model.volumes import member_mass, sheet_mass
from panelgen.view.layers import OF_GROUP, ViewLayer
from panelgen.view.looks import Looks, box_look, hardware_look, nail_look, run_depth, sleeve_look, unit_look
from panelgen.view.shapes import Shape
from panelgen.view.slots import Slots

__all__ = ["Part", "panel_parts"]

_FRAMING_ORDER = {
    role: place
    for place, roles in enumerate(
        (
            (Role.BOTTOM_PLATE, Role.TOP_PLATE, Role.RIM),
            (Role.STUD, Role.POST, Role.KING, Role.JOIST, Role.RIDGE, Role.HIP, Role.VALLEY, Role.RAFTER),
            (Role.JACK, Role.SILL, Role.TRIMMER),
            (Role.HEADER, Role.HEAD_PLATE),
            (Role.CRIPPLE,),
            (Role.BLOCKING, Role.BACKING),
            (Role.CAP_PLATE, Role.LOOKOUT),
            (Role.FASCIA,),
        )
    )
    for role in roles
}
_LATER = len(_FRAMING_ORDER)
_STAGES = {
    ViewLayer.FRAMING: 0,
    ViewLayer.OUTER_SHEATHING: 2,
    ViewLayer.UNITS: 4,
    ViewLayer.INNER_SHEATHING: 6,
    ViewLayer.STRAPPING: 8,
    ViewLayer.SERVICES: 10,
    ViewLayer.HARDWARE: 11,
    ViewLayer.INSULATION: 12,
}
_SERVICES_IN_FRAMING = 5


class Part(NamedTuple):
    """One thing that can be picked. `sizes` are mm, longest or along first; `mass` is kg, None where not known.

    `slot` says how many layers it lies outside (positive) or inside the framing, `step` when it is built in,
    `of` is the id of the run that it belongs to, if it belongs to one, and `pieces` how many there are of it.
    """

    id: str
    kind: str
    what: str
    layer: ViewLayer
    slot: int
    step: tuple[int, int, float]
    shapes: tuple[Shape, ...]
    why: Why
    stock: str = ""
    sizes: tuple[float, ...] = ()
    mass: float | None = None
    mark: str = ""
    of: str = ""
    pieces: int = 1


def panel_parts(panel: Panel, looks: Looks) -> list[Part]:
    """Every part of `panel`, in the order in which it is built in. Raises GeometryError where a part has no shape."""
    slots = Slots.of(panel)
    layers = {name: OF_GROUP[group] for name, group in layer_groups(panel).items()}
    parts = [
        *_sticks(panel, layers, slots, looks),
        *_sheets(panel, layers, slots, looks),
        *_fasteners(panel, layers, slots),
        *_services(panel, slots, looks),
        *_units(panel),
        *_bays(panel, looks),
    ]
    return sorted(parts, key=lambda part: part.step)


def _sticks(panel: Panel, layers: dict[str, ViewLayer], slots: Slots, looks: Looks) -> Iterator[Part]:
    for member in panel.members:
        layer = layers[member.layer]
        order = _FRAMING_ORDER.get(member.role, _LATER)
        x, y, _ = member.frame.origin
        yield Part(
            id=member.id,
            kind="member",
            what=str(member.role),
            layer=layer,
            slot=slots.of_layer(member.layer),
            step=(_STAGES[layer], order, y if layer is ViewLayer.STRAPPING else x),
            shapes=(looks.member(member),),
            why=member.why,
            stock=f"{member.stock} {member.species} {member.grade}",
            sizes=(member.length, member.width, member.thickness),
            mass=member_mass(member),
            mark=member.mark,
        )


def _sheets(panel: Panel, layers: dict[str, ViewLayer], slots: Slots, looks: Looks) -> Iterator[Part]:
    for sheet in panel.sheets:
        layer = layers[sheet.layer]
        xs, ys = zip(*sheet.outline, strict=True)
        yield Part(
            id=sheet.id,
            kind="sheet",
            what=f"{layer} sheet",
            layer=layer,
            slot=slots.of_layer(sheet.layer),
            step=(_STAGES[layer], 0, sheet.frame.origin[0]),
            shapes=(looks.sheet(sheet),),
            why=sheet.why,
            stock=sheet.product,
            sizes=(max(ys) - min(ys), max(xs) - min(xs), sheet.thickness),
            mass=sheet_mass(sheet),
            mark=sheet.mark,
        )


def _fasteners(panel: Panel, layers: dict[str, ViewLayer], slots: Slots) -> Iterator[Part]:
    for nails in panel.fasteners:
        if not len(nails):
            continue
        name = _fastened_layer(panel, nails)
        yield Part(
            id=nails.id,
            kind="fasteners",
            what="driven on site" if nails.on_site else "driven in the shop",
            layer=ViewLayer.FASTENERS,
            slot=slots.of_layer(name),
            step=(_STAGES[layers[name]] + 1, 0, 0.0),
            shapes=(nail_look(nails),),
            why=nails.why,
            stock=nails.product,
            sizes=(nails.length, nails.shank),
            pieces=len(nails),
        )


def _fastened_layer(panel: Panel, nails: Fasteners) -> str:
    first = int(nails.fastened[0])
    return panel.sheets[first].layer if nails.fastens_sheets else panel.members[first].layer


def _services(panel: Panel, slots: Slots, looks: Looks) -> Iterator[Part]:
    for run in panel.runs:
        slot = slots.at(run_depth(run.path))
        sizes = run.outside_section or (run.outside_diameter,)
        yield _service(
            run.id, "run", run.system, slot, looks.run(run), run.why, stock=run.product, sizes=sizes, of=run.run
        )
    for fitting in panel.fittings:
        yield _service(
            fitting.id,
            "fitting",
            fitting.kind,
            slots.at(fitting.point[2]),
            looks.fitting(fitting),
            fitting.why,
            stock=fitting.product,
            sizes=(fitting.length,),
            of=fitting.run,
        )
    for box in panel.boxes:
        slot = slots.at(box.frame.point(0.0, 0.0, box.size[2] / 2)[2])
        shapes = (box_look(box),)
        yield _service(box.id, "box", f"{box.kind} box", slot, shapes, box.why, stock=box.product, sizes=box.size)
    for sleeve in panel.sleeves:
        shapes = (sleeve_look(sleeve, panel.depth),)
        yield _service(
            sleeve.id,
            "sleeve",
            f"sleeve, {sleeve.seal}",
            0,
            shapes,
            sleeve.why,
            stock=sleeve.product,
            sizes=(sleeve.diameter,),
            of=sleeve.run,
        )
    for piece in panel.hardware:
        yield Part(
            id=piece.id,
            kind="hardware",
            what=str(piece.kind),
            layer=ViewLayer.HARDWARE,
            slot=slots.at(piece.point[2]),
            step=(_STAGES[ViewLayer.HARDWARE], 0, piece.point[0]),
            shapes=(hardware_look(piece),),
            why=piece.why,
            stock=piece.product,
            pieces=piece.count,
        )


def _service(
    id: str,
    kind: str,
    what: str,
    slot: int,
    shapes: tuple[Shape, ...],
    why: Why,
    *,
    stock: str,
    sizes: tuple[float, ...],
    of: str = "",
) -> Part:
    stage = _SERVICES_IN_FRAMING if slot == 0 else _STAGES[ViewLayer.SERVICES]
    return Part(id, kind, what, ViewLayer.SERVICES, slot, (stage, 0, 0.0), shapes, why, stock, sizes, of=of)


def _units(panel: Panel) -> Iterator[Part]:
    for opening in panel.openings:
        yield Part(
            id=opening.id,
            kind="opening",
            what=opening.kind,
            layer=ViewLayer.UNITS,
            slot=0,
            step=(_STAGES[ViewLayer.UNITS], 0, opening.x0),
            shapes=unit_look(opening, panel.framing),
            why=opening.why,
            sizes=(opening.width, opening.height),
        )


def _bays(panel: Panel, looks: Looks) -> Iterator[Part]:
    for bay in panel.bays:
        yield Part(
            id=bay.id,
            kind="bay",
            what="insulated bay",
            layer=ViewLayer.INSULATION,
            slot=0,
            step=(_STAGES[ViewLayer.INSULATION], 0, bay.outline[0][0]),
            shapes=(looks.bay(bay),),
            why=bay.why,
            stock=bay.product,
            sizes=(bay.z1 - bay.z0,),
            mass=bay.mass,
            mark=bay.mark,
        )
