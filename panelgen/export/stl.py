"""ASCII STL: one named ``solid`` a part, so that each part can be told apart and proven closed by itself."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from pathlib import Path

import numpy as np

from panelgen.errors import ExportError
from panelgen.files import whole_file
from panelgen.meshes import Mesh, PartMesh
from panelgen.model.groups import PartGroup

__all__ = ["write_group_stls", "write_stl"]

_DECIMALS = 6
_FACET = "facet normal %s\n outer loop\n  vertex %s\n  vertex %s\n  vertex %s\n endloop\nendfacet\n"
_FLAT = 1e-12


def write_stl(path: Path | str, parts: Iterable[PartMesh]) -> None:
    """Write one solid a part, named by its mark, mm to six decimals; equal input gives equal bytes.

    Raises ExportError where the file cannot be written or there is no part.
    """
    _write(Path(path), [_solid(part) for part in parts])


def write_group_stls(folder: Path | str, name: str, parts: Sequence[PartMesh]) -> tuple[Path, ...]:
    """Write ``NAME.stl`` with all parts, and ``NAME-framing.stl`` and so on for each group that has any.

    `folder` must exist. Returns the files, the whole first and groups from outside to inside.
    """
    texts = [(part.group, _solid(part)) for part in parts]
    lots = {f"{name}.stl": [text for _, text in texts]}
    for group in PartGroup:
        own = [text for its, text in texts if its is group]
        if own:
            lots[f"{name}-{group.replace(' ', '-')}.stl"] = own
    for file, lot in lots.items():
        _write(Path(folder) / file, lot)
    return tuple(Path(folder) / file for file in lots)


def _write(path: Path, solids: Sequence[str]) -> None:
    if not solids:
        raise ExportError(f"{path}: there is no part to write")
    with whole_file(path) as scratch:
        scratch.write_text("".join(solids), encoding="utf-8", newline="\n")


def _solid(part: PartMesh) -> str:
    name = re.sub(r"\s+", "_", part.name)
    return f"solid {name}\n{_facets(part.mesh)}endsolid {name}\n"


def _facets(mesh: Mesh) -> str:
    """Facets of a mesh. Each vertex is put in words once, so equal vertices read equal."""
    vertices = np.round(mesh.vertices, _DECIMALS) + 0.0
    a, b, c = np.moveaxis(vertices[mesh.faces], 1, 0)
    normals = np.cross(b - a, c - a)
    size = np.linalg.norm(normals, axis=1, keepdims=True)
    normals = np.round(normals / np.maximum(size, _FLAT), _DECIMALS) + 0.0
    words = np.array(_triples(normals) + _triples(vertices), dtype=object)
    count = len(normals)
    order = np.column_stack((np.arange(count), mesh.faces + count))
    return (_FACET * count) % tuple(words[order].ravel().tolist())


def _triples(rows: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> list[str]:
    text = ("%.12g %.12g %.12g\n" * len(rows)) % tuple(rows.ravel().tolist())
    return text.splitlines()
