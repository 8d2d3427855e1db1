"""The buffers of a panel: parts of one layer and kind packed into one block of bytes, named by its content.

All numbers are little-endian and four bytes wide, but for nail places, so that a browser reads them in place.
`parts` are row numbers in the panel's table of parts and never fall, so a prefix of a block is what is built
up to a step. n is their count.

- ``boxes``, ``panes``, ``blanks``: u32 n; u32[n] parts; f32[n][12] origin and the three edges that leave it
- ``mesh``, ``bored``: u32 n, vertices, triangles; u32[n][3] part, vertices, triangles; f32[vertices][3];
  u32[triangles][3]
- ``tubes``: u32 n; u32[n] parts; f32[n][8] start, end, radius, 1 where the next goes on from the end
- ``nails``: u32 n, places; u32[n][2] part, places; f32[n][5] direction, length, shank; f32[6] low corner and step;
  u16[places][3] steps from the low corner, with two bytes more where that is needed to fill the last four
- ``parts``, ``findings``: JSON, see `panelgen.view.tables`

A part in ``bored`` is in ``blanks`` too: its mesh is for near by, its box for far away, where holes are too small to
see. Lengths are mm in panel coordinates.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import blake2b

import numpy as np

from panelgen.view.layers import ViewLayer
from panelgen.view.parts import Part
from panelgen.view.shapes import BoredShape, BoxShape, MeshShape, NailShape, PaneShape, Shape, TubeShape

__all__ = ["Block", "shape_blocks"]

_KEY_BYTES = 12
_LAST_STEP = 65535
_F32, _U32, _U16 = "<f4", "<u4", "<u2"


@dataclass(frozen=True, slots=True)
class Block:
    """One buffer; equal `data` has an equal `key`, so a reader that has the key needs nothing sent."""

    kind: str
    layer: str
    slot: int
    data: bytes = field(repr=False)

    @property
    def key(self) -> str:
        """The name of the content: a 96-bit BLAKE2 digest (RFC 7693) in hexadecimal."""
        return blake2b(self.data, digest_size=_KEY_BYTES).hexdigest()


def shape_blocks(parts: Sequence[Part]) -> list[Block]:
    """The blocks of a panel's shapes, from parts in table order."""
    lots: dict[tuple[int, ViewLayer, type[Shape]], list[tuple[int, Shape]]] = {}
    for row, part in enumerate(parts):
        for shape in part.shapes:
            lots.setdefault((part.slot, part.layer, type(shape)), []).append((row, shape))
    order = {layer: place for place, layer in enumerate(ViewLayer)}
    shapes = list(_PACKERS)
    keys = sorted(lots, key=lambda key: (order[key[1]], key[0], shapes.index(key[2])))
    return [
        Block(kind, layer, slot, pack(lots[slot, layer, shape]))
        for slot, layer, shape in keys
        for kind, pack in _PACKERS[shape]
    ]


_Lot = Sequence[tuple[int, Shape]]


def _rows(lot: _Lot) -> bytes:
    return _bytes([len(lot), *(row for row, _ in lot)], _U32)


def _bytes(values: Iterable[object] | np.ndarray[tuple[int, ...], np.dtype[np.generic]], kind: str) -> bytes:
    return np.asarray(values, dtype=kind).tobytes()


def _boxes(lot: _Lot) -> bytes:
    values = [(*box.origin, *box.length, *box.width, *box.depth) for box in map(_box, (shape for _, shape in lot))]
    return _rows(lot) + _bytes(values, _F32)


def _box(shape: Shape) -> BoxShape:
    match shape:
        case BoxShape():
            return shape
        case PaneShape(box) | BoredShape(_, box):
            return box
    raise TypeError(f"{type(shape).__name__} has no box")


def _tubes(lot: _Lot) -> bytes:
    tubes = [shape for _, shape in lot if isinstance(shape, TubeShape)]
    return _rows(lot) + _bytes([(*tube.start, *tube.end, tube.radius, tube.turns) for tube in tubes], _F32)


def _meshes(lot: _Lot) -> bytes:
    meshes = [shape.mesh for _, shape in lot if isinstance(shape, (MeshShape, BoredShape))]
    counts = [(row, len(mesh.vertices), len(mesh.faces)) for (row, _), mesh in zip(lot, meshes, strict=True)]
    starts = np.cumsum([0, *(count for _, count, _ in counts)])
    faces = np.concatenate([mesh.faces + start for mesh, start in zip(meshes, starts, strict=False)])
    vertices = np.concatenate([mesh.vertices for mesh in meshes])
    return b"".join(
        (
            _bytes([len(lot), len(vertices), len(faces)], _U32),
            _bytes(counts, _U32),
            _bytes(vertices, _F32),
            _bytes(faces, _U32),
        )
    )


def _nails(lot: _Lot) -> bytes:
    nails = [shape.nails for _, shape in lot if isinstance(shape, NailShape)]
    places = np.concatenate([row.points for row in nails])
    low = places.min(axis=0)
    step = np.maximum((places.max(axis=0) - low) / _LAST_STEP, np.finfo(np.float32).tiny)
    data = b"".join(
        (
            _bytes([len(lot), len(places)], _U32),
            _bytes([(row, len(own)) for (row, _), own in zip(lot, nails, strict=True)], _U32),
            _bytes([(*own.direction, own.length, own.shank) for own in nails], _F32),
            _bytes([*low, *step], _F32),
            _bytes(np.rint((places - low) / step), _U16),
        )
    )
    return data + bytes(-len(data) % 4)


_PACKERS: Mapping[type[Shape], Sequence[tuple[str, Callable[[_Lot], bytes]]]] = {
    BoxShape: [("boxes", _boxes)],
    PaneShape: [("panes", _boxes)],
    MeshShape: [("mesh", _meshes)],
    BoredShape: [("bored", _meshes), ("blanks", _boxes)],
    TubeShape: [("tubes", _tubes)],
    NailShape: [("nails", _nails)],
}
