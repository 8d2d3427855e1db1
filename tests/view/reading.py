"""A second reader of the view's buffers, written from the description of their layout alone."""

from __future__ import annotations

import json
import math
from collections import defaultdict
from dataclasses import dataclass
from typing import Any

import numpy as np

from panelgen.meshes import Mesh
from panelgen.view import Message, Payload


@dataclass(frozen=True)
class Nails:
    """One row of nails."""

    row: int
    direction: np.ndarray
    length: float
    shank: float
    places: np.ndarray


def parts(payload: Payload, label: str) -> list[dict[str, Any]]:
    """The rows of a panel's table as mappings."""
    table = content(payload, label, "parts")
    words, whys = table["words"], table["whys"]
    names = ("id", "mark", "kind", "what", "layer", "stock", "sizes", "mass", "why", "of", "count")
    rows = [dict(zip(names, row, strict=True)) for row in table["rows"]]
    return [
        row | {key: words[row[key]] for key in ("kind", "what", "layer", "stock")} | {"why": whys[row["why"]]}
        for row in rows
    ]


def content(payload: Payload, label: str, kind: str) -> Any:
    """The JSON of the one block of that kind."""
    (block,) = [block for block in payload.panels[label]["blocks"] if block["kind"] == kind]
    return json.loads(payload.buffers[block["key"]])


def shape_blocks(payload: Payload, label: str, kind: str) -> list[tuple[dict[str, Any], bytes]]:
    """Heads and bytes of the blocks of that kind."""
    return [
        (block, payload.buffers[block["key"]]) for block in payload.panels[label]["blocks"] if block["kind"] == kind
    ]


def boxes(data: bytes) -> tuple[np.ndarray, np.ndarray]:
    """Rows (n,) and corner and edges (n, 4, 3)."""
    (count,) = np.frombuffer(data, "<u4", 1)
    rows = np.frombuffer(data, "<u4", count, 4)
    return rows, np.frombuffer(data, "<f4", -1, 4 + 4 * count).reshape(count, 4, 3)


def bored(data: bytes) -> list[tuple[int, np.ndarray, np.ndarray]]:
    """Row, corner and edges (4, 3), and holes (k, 5) of each bored box."""
    count, total = (int(value) for value in np.frombuffer(data, "<u4", 2))
    counts = np.frombuffer(data, "<u4", 2 * count, 8).reshape(count, 2)
    edges = np.frombuffer(data, "<f4", 12 * count, 8 + 8 * count).reshape(count, 4, 3)
    holes = np.frombuffer(data, "<f4", 5 * total, 8 + 56 * count).reshape(total, 5)
    ends = np.cumsum(counts[:, 1])
    return [
        (int(row), box, holes[end - own : end])
        for (row, own), box, end in zip(counts, edges, ends.tolist(), strict=True)
    ]


def tubes(data: bytes) -> tuple[np.ndarray, np.ndarray]:
    """Rows (n,) and start, end, radius, turn (n, 8)."""
    (count,) = np.frombuffer(data, "<u4", 1)
    rows = np.frombuffer(data, "<u4", count, 4)
    return rows, np.frombuffer(data, "<f4", -1, 4 + 4 * count).reshape(count, 8)


def meshes(data: bytes) -> list[tuple[int, Mesh]]:
    """Each part's row and its mesh."""
    count, vertices, triangles = (int(value) for value in np.frombuffer(data, "<u4", 3))
    counts = np.frombuffer(data, "<u4", 3 * count, 12).reshape(count, 3)
    points = np.frombuffer(data, "<f4", 3 * vertices, 12 + 12 * count).reshape(-1, 3).astype(float)
    faces = np.frombuffer(data, "<u4", 3 * triangles, 12 + 12 * count + 12 * vertices).reshape(-1, 3).astype(np.int32)
    found, point, face = [], 0, 0
    for row, own, sides in counts.tolist():
        found.append((row, Mesh(points[point : point + own], faces[face : face + sides] - point)))
        point, face = point + own, face + sides
    assert (point, face) == (vertices, triangles)
    return found


def nails(data: bytes) -> list[Nails]:
    """Each row of nails."""
    count, total = (int(value) for value in np.frombuffer(data, "<u4", 2))
    counts = np.frombuffer(data, "<u4", 2 * count, 8).reshape(count, 2)
    kinds = np.frombuffer(data, "<f4", 5 * count, 8 + 8 * count).reshape(count, 5)
    low, step = np.frombuffer(data, "<f4", 6, 8 + 28 * count).reshape(2, 3)
    places = low + step * np.frombuffer(data, "<u2", 3 * total, 8 + 28 * count + 24).reshape(-1, 3)
    ends = np.cumsum(counts[:, 1])
    assert ends[-1] == total
    return [
        Nails(int(row), kind[:3], float(kind[3]), float(kind[4]), places[end - own : end])
        for (row, own), kind, end in zip(counts, kinds, ends, strict=True)
    ]


def volumes(payload: Payload, label: str) -> dict[int, float]:
    """Volume of boxes, bored boxes and meshes by row, mm3; raises where an edge is not met by exactly one other."""
    found: dict[int, float] = defaultdict(float)
    for _, data in shape_blocks(payload, label, "boxes"):
        rows, values = boxes(data)
        for row, edges in zip(rows.tolist(), values[:, 1:].astype(float), strict=True):
            found[row] += float(np.linalg.det(edges))
    for _, data in shape_blocks(payload, label, "bored"):
        for row, edges, holes in bored(data):
            depth = np.linalg.norm(edges[3])
            found[row] += float(np.linalg.det(edges[1:].astype(float)))
            for hole in holes.astype(float):
                found[row] -= math.pi * hole[4] ** 2 * math.hypot(depth, *(hole[2:4] - hole[:2]))
    for _, data in shape_blocks(payload, label, "mesh"):
        for row, mesh in meshes(data):
            sides = mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
            assert sorted(map(tuple, sides.tolist())) == sorted(map(tuple, sides[:, ::-1].tolist()))
            found[row] += mesh.volume
    return dict(found)


class Reader:
    """Holds what messages say, as a page does."""

    def __init__(self) -> None:
        self.house: Any = None
        self.panels: dict[str, Any] = {}
        self.buffers: dict[str, bytes] = {}

    def take(self, message: Message) -> None:
        """Take a message in."""
        head = json.loads(json.dumps(message.head))
        self.buffers |= dict(zip(head["keys"], message.buffers, strict=True))
        self.house = head["house"] or self.house
        changed = {panel["label"]: panel for panel in head["panels"]}
        order = head["order"] if head["order"] is not None else list(self.panels)
        self.panels = {label: changed.get(label) or self.panels[label] for label in order}

    def holds(self, payload: Payload) -> bool:
        """Whether this is what a reader of the whole payload would hold."""
        heads = [self.house, *self.panels.values()]
        used = {block["key"] for head in heads for block in head["blocks"]}
        return (
            heads == json.loads(json.dumps([payload.house, *payload.panels.values()]))
            and list(self.panels) == list(payload.panels)
            and {key: self.buffers[key] for key in used} == payload.buffers
        )
