"""The buffers of a panel: parts of one layer and kind packed into one block of bytes, named by its content.

All numbers are little-endian and four bytes wide, but for nail places, so that a browser reads them in place.
`parts` are row numbers in the panel's table of parts and never fall, so a prefix of a block is what is built
up to a step. n is their count.

- ``boxes``, ``panes``: u32 n; u32[n] parts; f32[n][12] origin and the three edges that leave it
- ``bored``: u32 n, holes; u32[n][2] part, holes; f32[n][12] as above; f32[holes][5] centre of a hole along the
  first and second edge (mm) where it enters, the same where it leaves, radius
- ``mesh``: u32 n, vertices, triangles; u32[n][3] part, vertices, triangles; f32[vertices][3]; u32[triangles][3]
- ``tubes``: u32 n; u32[n] parts; f32[n][8] start, end, radius, 1 where the next goes on from the end
- ``nails``: u32 n, places; u32[n][2] part, places; f32[n][5] direction, length, shank; f32[6] low corner and step;
  u16[places][3] steps from the low corner, with two bytes more where that is needed to fill the last four
- ``parts``, ``findings``: JSON, see `panelgen.view.tables`

Lengths are mm in panel coordinates.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import blake2b
from itertools import chain

import numpy as np

from panelgen.view.layers import ViewLayer
from panelgen.view.parts import Part
from panelgen.view.shapes import BoredShape, BoxShape, MeshShape, NailShape, PaneShape, Shape, TubeShape

__all__ = ["Block", "shape_blocks"]

_KEY_BYTES = 12
_LAST_STEP = 65535
_TINY = float(np.finfo(np.float32).tiny)
_F32, _U32, _U16 = "<f4", "<u4", "<u2"
_BOXY = (BoxShape, PaneShape, BoredShape)


@dataclass(frozen=True, slots=True)
class Block:
    """One buffer; equal `data` has an equal `key`, so a reader that has the key needs nothing sent."""

    kind: str
    layer: str
    slot: int
    data: bytes = field(repr=False)

    @classmethod
    def table(cls, kind: str, data: bytes) -> Block:
        """A block that is of no layer: what is said and not drawn."""
        return cls(kind, "", 0, data)

    @property
    def key(self) -> str:
        """The name of the content: a 96-bit BLAKE2 digest (RFC 7693) in hexadecimal."""
        return blake2b(self.data, digest_size=_KEY_BYTES).hexdigest()


def shape_blocks(parts: Sequence[Part]) -> list[Block]:
    """The blocks of a panel's shapes, from parts in table order."""
    lots: dict[tuple[int, ViewLayer, type[Shape]], _Lot] = {}
    for row, part in enumerate(parts):
        for shape in part.shapes:
            lots.setdefault((part.slot, part.layer, type(shape)), []).append((row, shape))
    order = {layer: place for place, layer in enumerate(ViewLayer)}
    shapes = list(_PACKERS)
    keys = sorted(lots, key=lambda key: (order[key[1]], key[0], shapes.index(key[2])))
    edges = _edges([box for key in keys for _, shape in lots[key] if (box := _box_of(shape)) is not None])
    blocks, start = [], 0
    for key in keys:
        slot, layer, look = key
        kind, pack = _PACKERS[look]
        blocks.append(Block(kind, layer, slot, pack(lots[key], edges[start:])))
        start += len(lots[key]) if look in _BOXY else 0
    return blocks


_Lot = list[tuple[int, Shape]]
_Edges = np.ndarray[tuple[int, ...], np.dtype[np.float32]]


def _rows(lot: _Lot) -> bytes:
    return _bytes([len(lot), *(row for row, _ in lot)], _U32)


def _bytes(values: Iterable[object] | np.ndarray[tuple[int, ...], np.dtype[np.generic]], kind: str) -> bytes:
    return np.asarray(values, dtype=kind).tobytes()


def _box_of(shape: Shape) -> BoxShape | None:
    if isinstance(shape, BoxShape):
        return shape
    return shape.box if isinstance(shape, _BOXY) else None


def _edges(boxes: Sequence[BoxShape]) -> _Edges:
    """(n, 4, 3): the corner of each box and the three edges that leave it; all at once, as batches are small."""
    rows = ((*box.frame.x, *box.frame.y, *box.size, *box.low, *box.frame.origin) for box in boxes)
    placed = np.fromiter(chain.from_iterable(rows), float, 15 * len(boxes)).reshape(-1, 5, 3)
    along, across, size, low, origin = np.ascontiguousarray(placed.transpose(1, 2, 0))
    (ax, ay, az), (bx, by, bz) = along, across
    axes = np.stack((along, across, (ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx)))
    corner = origin + (axes * low[:, None]).sum(axis=0)
    return np.concatenate((corner[None], axes * size[:, None])).transpose(2, 0, 1).astype(_F32)


def _boxes(lot: _Lot, edges: _Edges) -> bytes:
    return _rows(lot) + edges[: len(lot)].tobytes()


def _bored(lot: _Lot, edges: _Edges) -> bytes:
    bored = [shape for _, shape in lot if isinstance(shape, BoredShape)]
    holes = [(*hole.near, *hole.far, hole.radius) for shape in bored for hole in shape.holes]
    counts = [(row, len(shape.holes)) for (row, _), shape in zip(lot, bored, strict=True)]
    return b"".join(
        (
            _bytes([len(lot), len(holes)], _U32),
            _bytes(counts, _U32),
            edges[: len(lot)].tobytes(),
            _bytes(holes, _F32),
        )
    )


def _tubes(lot: _Lot, _: _Edges) -> bytes:
    tubes = [shape for _, shape in lot if isinstance(shape, TubeShape)]
    return _rows(lot) + _bytes([(*tube.start, *tube.end, tube.radius, tube.turns) for tube in tubes], _F32)


def _meshes(lot: _Lot, _: _Edges) -> bytes:
    meshes = [shape.mesh for _, shape in lot if isinstance(shape, MeshShape)]
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


def _nails(lot: _Lot, _: _Edges) -> bytes:
    nails = [shape.nails for _, shape in lot if isinstance(shape, NailShape)]
    places = np.concatenate([row.points for row in nails])
    low = places.min(axis=0)
    step = np.maximum((places.max(axis=0) - low) / _LAST_STEP, _TINY)
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


_PACKERS: Mapping[type[Shape], tuple[str, Callable[[_Lot, _Edges], bytes]]] = {
    BoxShape: ("boxes", _boxes),
    PaneShape: ("panes", _boxes),
    BoredShape: ("bored", _bored),
    MeshShape: ("mesh", _meshes),
    TubeShape: ("tubes", _tubes),
    NailShape: ("nails", _nails),
}
