"""Random dormers for random houses: of both forms, wherever one fits on the slope over a wall along x.

Everything is in inches. What has to fit is worked out here by plain trigonometry, so that a dormer that the design
refuses is a fault.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, ceil, cos, hypot
from typing import Any

import numpy as np

__all__ = ["LAYERS", "UNIT", "random_dormer"]

_STUD, _PLATE, _RAFTER = 5.5, 1.5, 5.5
_BELOW = 11.25 + 5 / 8
"""How deep the roof below is, with its sheathing."""

_TRIES = 12
UNIT = {"kind": "window", "width": 20, "height": 16}
LAYERS = {
    "cheek": [
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "weather"},
        {"layer": "framing", "stock": "2x6", "spacing": 16},
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
    ],
    "dormer roof": [
        {"layer": "sheathing", "product": "osb-5/8", "barrier": "weather"},
        {"layer": "framing", "stock": "2x6", "spacing": 16},
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
    ],
}


@dataclass(frozen=True)
class _Place:
    """A slope of `rise` per run over an edge of this length, up to the run of its ridge, maybe hipped at its ends."""

    edge: str
    length: float
    ridge: float
    rise: float


def random_dormer(
    rng: np.random.Generator, edge: str, length: float, ridge: float, rise: float
) -> tuple[dict[str, Any], list[dict[str, Any]]] | None:
    """An opening of a roof with its dormer, and the openings of its front; None where none was found that fits.

    `rise` is per run of 1, `ridge` the run of the ridge over the edge.
    """
    place = _Place(edge, length, ridge, rise)
    for _ in range(_TRIES):
        found = _tried(rng, place)
        if found is not None:
            return found
    return None


def _tried(rng: np.random.Generator, place: _Place) -> tuple[dict[str, Any], list[dict[str, Any]]] | None:
    form = str(rng.choice(("shed", "gable")))
    width, run = int(rng.integers(30, 61)), int(rng.integers(16, 37))
    slope = int(rng.integers(2, 5)) / 12 if form == "shed" else int(rng.integers(4, 11)) / 12
    if form == "shed" and slope > place.rise - 2 / 12:
        return None
    secant = hypot(1.0, place.rise)
    lift = place.rise * _STUD + _PLATE * (secant - 1.0)
    steep = hypot(1.0, slope) if form == "gable" else 1.0
    back = lift + (1.0 + 2.0 * steep) * _PLATE + 3.0
    own = slope if form == "shed" else 0.0
    height = ceil(back + (run + _STUD) * (place.rise - own) + 2.0) + int(rng.integers(0, 12))
    half = width / 2 + _STUD
    deep = _RAFTER * hypot(1.0, slope)
    over = height + deep + (0.0 if form == "shed" else half * slope)
    reach = over / (place.rise - own)
    front = 14.0 + float(rng.integers(0, 20))
    top = front + reach
    if top > place.ridge - 3.0:
        return None
    beside = half + 8.0 + top
    if 2 * beside > place.length:
        return None
    x = float(rng.integers(ceil(beside), int(place.length - beside) + 1))
    angle = atan(place.rise)
    low = front + _STUD
    middle = (low + run / 2) / cos(angle) + _BELOW * place.rise
    dormer = {
        "form": form,
        "height": height,
        "walls": "cheek",
        "assembly": "dormer roof",
        "rise": round(slope * 12),
        "run": 12,
        "overhang": int(rng.integers(0, 9)),
        "rake_overhang": int(rng.integers(0, 9)),
    }
    opening = {
        "id": "DM1",
        "edge": place.edge,
        "at": [x, middle],
        "size": [width, run / cos(angle)],
        "kind": "dormer",
        "dormer": dormer,
    }
    sill = ceil(lift + 7.0)
    room = height - 3.5 * steep + (0.0 if form == "shed" else slope * (half - 14.0))
    fits = room > sill + 17.0 + _PLATE + 5.5
    window = {"id": "DW1", "wall": "DM1-front", "type": "vent", "center": half, "sill": sill}
    return opening, [window] if fits else []
