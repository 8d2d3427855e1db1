"""The shape in which each part of the model is drawn.

Boxes where a part is one, closed meshes where it is cut or bored, tubes for round runs. Windows and doors
are drawn as plain frames in the middle of the framing: the model knows their size, not their section. Hardware
is a small cube where it sits, a sign and not its size.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from functools import lru_cache, partial
from itertools import pairwise

from panelgen.geometry.frames import Frame, Point2, Vec3, add
from panelgen.geometry.lofts import Body, Loft
from panelgen.geometry.mitres import Tube
from panelgen.meshes import Mesh, MeshStore, Tessellate
from panelgen.model import Bay, Box, Fasteners, Fitting, Hardware, Layer, Member, Opening, RunPart, Sheet, Sleeve, Truss
from panelgen.model.bodies import member_body, sheet_body
from panelgen.model.pieces import Piece, fitting_pieces, run_pieces
from panelgen.model.truss_bodies import truss_body, truss_volume
from panelgen.model.volumes import member_volume, sheet_volume
from panelgen.view.shapes import BoredShape, BoxShape, MeshShape, NailShape, PaneShape, Shape, TubeShape, upright_box

__all__ = [
    "Looks",
    "box_look",
    "hardware_look",
    "nail_look",
    "run_depth",
    "sleeve_look",
    "unit_look",
]

_FRAME_FACE = 60.0  # mm of window or door frame seen from the front
_FRAME_SHARE = 0.6  # of the framing's depth
_PANE = 24.0
_LEAF = 44.0
_SIGN = 24.0


class Looks:
    """Shapes of sticks, sheets and runs. Keep one while a house is edited: equal cut shapes are meshed once.

    `tessellate` makes the few bodies that only a CAD kernel can cut.
    """

    def __init__(self, tessellate: Tessellate) -> None:
        self._store = MeshStore(tessellate)
        self._flat: dict[Hashable, Mesh] = {}

    def member(self, member: Member) -> Shape:
        """A box, with holes where it is bored, or a mesh where ends or notches cut it."""
        is_box = member.has_square_ends and not member.notches
        box = BoxShape(member.frame, (member.length, member.width, member.thickness))
        if is_box and not member.bores:
            return box
        body = member_body(member)
        if is_box and body.is_plain:
            return BoredShape(box, tuple(hole for loft in body.lofts for hole in loft.holes))
        return MeshShape(self._store.mesh(body, partial(member_volume, member)).placed(member.frame))

    def sheet(self, sheet: Sheet) -> Shape:
        """A box, or a mesh where its outline is no rectangle or it has holes."""
        rectangle = _rectangle(sheet.outline)
        if rectangle and not sheet.cutouts and not sheet.round_holes:
            (x0, y0), (x1, y1) = rectangle
            return BoxShape(sheet.frame, (x1 - x0, y1 - y0, sheet.thickness), (x0, y0, 0.0))
        shape = (sheet.outline, sheet.cutouts, sheet.round_holes, sheet.thickness)
        mesh = self._flat.get(shape)
        if mesh is None:
            mesh = self._flat[shape] = self._store.mesh(sheet_body(sheet), partial(sheet_volume, sheet))
        return MeshShape(mesh.placed(sheet.frame))

    def run(self, run: RunPart) -> tuple[Shape, ...]:
        """The pieces of a run at their outside size, insulation included."""
        return self._pieces(run_pieces(run))

    def fitting(self, fitting: Fitting) -> tuple[Shape, ...]:
        """The pieces of a fitting."""
        return self._pieces(fitting_pieces(fitting))

    def bay(self, bay: Bay) -> Shape:
        """The void: a box, or a mesh where its outline is no rectangle."""
        rectangle = _rectangle(bay.outline)
        if rectangle and not bay.holes:
            low, high = rectangle
            return upright_box((*low, bay.z0), (*high, bay.z1))
        shape = (bay.outline, bay.holes, bay.z1 - bay.z0)
        mesh = self._flat.get(shape)
        if mesh is None:
            rings = (bay.outline, *bay.holes)
            loft = Loft(rings, rings, bay.z1 - bay.z0)
            mesh = self._flat[shape] = self._store.mesh(Body((loft,)), lambda: loft.volume)
        return MeshShape(mesh.placed(Frame((0.0, 0.0, bay.z0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))))

    def truss(self, truss: Truss, frame: Frame) -> Shape:
        """Its chords, on its rear face in the coordinates of `frame`."""
        return MeshShape(self._store.mesh(truss_body(truss), partial(truss_volume, truss)).placed(frame))

    def _pieces(self, pieces: Sequence[Piece]) -> tuple[Shape, ...]:
        shapes: list[Shape] = []
        for piece in pieces:
            if isinstance(piece, Tube):
                last = len(piece.points) - 2
                shapes += (
                    TubeShape(start, end, piece.radius, turns=place < last)
                    for place, (start, end) in enumerate(pairwise(piece.points))
                )
            else:
                shapes.append(MeshShape(self._store.mesh(piece.body, piece.volume).placed(piece.frame)))
        return tuple(shapes)


def run_depth(path: Sequence[Vec3]) -> float:
    """The depth in the panel at which a run mostly lies, mm: midway between its least and greatest z."""
    zs = [point[2] for point in path]
    return (min(zs) + max(zs)) / 2


def nail_look(nails: Fasteners) -> Shape:
    """The row as it is."""
    return NailShape(nails)


def box_look(box: Box) -> Shape:
    """The box, its back at its frame's origin."""
    return BoxShape(box.frame, box.size)


def sleeve_look(sleeve: Sleeve, depth: tuple[float, float]) -> Shape:
    """A tube through the panel."""
    low, high = ((*sleeve.hole(z, z)[:2], z) for z in depth)
    return TubeShape(low, high, sleeve.diameter / 2)


def hardware_look(piece: Hardware) -> Shape:
    """A small cube about its point."""
    half = _SIGN / 2
    return upright_box(add(piece.point, (-half, -half, -half)), add(piece.point, (half, half, half)))


def unit_look(opening: Opening, framing: Layer) -> tuple[Shape, ...]:
    """A frame with glass or a door leaf, centred in the rough opening; a door stands on its foot. None if bare."""
    if opening.kind not in ("window", "door"):
        return ()
    x0 = (opening.x0 + opening.x1 - opening.unit_width) / 2
    x1 = x0 + opening.unit_width
    is_door = opening.kind == "door"
    y0 = opening.y0 if is_door else (opening.y0 + opening.y1 - opening.unit_height) / 2
    y1 = y0 + opening.unit_height
    middle, half = (framing.z0 + framing.z1) / 2, framing.thickness * _FRAME_SHARE / 2
    low, high = middle - half, middle + half
    face = min(_FRAME_FACE, opening.unit_width / 4, opening.unit_height / 4)
    foot = y0 if is_door else y0 + face
    frame: list[Shape] = [
        upright_box((x0, y0, low), (x0 + face, y1, high)),
        upright_box((x1 - face, y0, low), (x1, y1, high)),
        upright_box((x0 + face, y1 - face, low), (x1 - face, y1, high)),
    ]
    if is_door:
        leaf = upright_box((x0 + face, foot, middle - _LEAF / 2), (x1 - face, y1 - face, middle + _LEAF / 2))
        return (*frame, leaf)
    frame.append(upright_box((x0 + face, y0, low), (x1 - face, foot, high)))
    pane = upright_box((x0 + face, foot, middle - _PANE / 2), (x1 - face, y1 - face, middle + _PANE / 2))
    return (*frame, PaneShape(pane))


@lru_cache(maxsize=8192)
def _rectangle(outline: tuple[Point2, ...]) -> tuple[Point2, Point2] | None:
    """The low and high corner of an outline that is a rectangle along the axes, or None."""
    xs, ys = zip(*outline, strict=True)
    (x0, y0), (x1, y1) = (min(xs), min(ys)), (max(xs), max(ys))
    is_rectangle = len(outline) == 4 and set(outline) == {(x0, y0), (x1, y0), (x1, y1), (x0, y1)}
    return ((x0, y0), (x1, y1)) if is_rectangle else None
