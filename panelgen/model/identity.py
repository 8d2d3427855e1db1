"""Identities that outlive a session: the same part has the same one in every file and on every machine.

They follow from names alone (RFC 9562, version 5), so a file written again can be compared with, and
joined to, what a person added to the earlier one.
"""

from __future__ import annotations

import json
from uuid import UUID, uuid5

__all__ = ["identity", "ifc_text", "part_global_id", "run_global_id"]

_NAMESPACE = UUID("0f2a4c1e-6a5b-4e0f-9d57-3c1b8a7e2d64")
_DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"
_LENGTH = 22


def identity(house: str, *path: str) -> UUID:
    """The identity of the thing at `path` (outermost name first) in the house of that name."""
    return uuid5(_NAMESPACE, json.dumps([house, *path]))


def ifc_text(value: UUID) -> str:
    """An identity as the 22 characters of an IfcGloballyUniqueId (ISO 16739-1): base 64, six bits a character."""
    number = value.int
    digits = []
    for _ in range(_LENGTH):
        number, digit = divmod(number, len(_DIGITS))
        digits.append(_DIGITS[digit])
    return "".join(reversed(digits))


def part_global_id(house: str, part: str) -> str:
    """The IFC GlobalId of a part by its id, which is unique in the house."""
    return ifc_text(identity(house, part))


def run_global_id(house: str, panel: str, run: str) -> str:
    """The IFC GlobalId of the stretch of a run inside a panel: a run goes through many."""
    return ifc_text(identity(house, panel, run))
