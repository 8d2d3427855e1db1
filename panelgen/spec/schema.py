"""The house spec as JSON Schema, for editors and for finding the keys that a place in the file takes."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from panelgen.spec.house import HouseSpec
from panelgen.spec.lines import Key, Path, entered

__all__ = ["json_schema", "keys_at"]

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_UNITS = {"length": "mm", "mass": "kg"}  # of the kinds of quantity that have defaults


def json_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a house spec file, a new dictionary on every call."""
    schema = {"$schema": _DIALECT, **HouseSpec.model_json_schema()}
    for model in (schema, *schema["$defs"].values()):
        for place in model.get("properties", {}).values():
            _name_units(place)
    return schema


def keys_at(path: Path, data: Any) -> tuple[str, ...]:
    """The keys that the mapping at `path` may have; empty where it is no mapping or its keys are free.

    `data` is the whole file, which tells what kind of layer a layer is.
    """
    schema = _schema()
    place = _plain(schema, data)
    for key in path:
        data = entered(data, key)
        place = _plain(_inside(place, key), data)
    return tuple(place.get("properties", ()))


def _name_units(place: dict[str, Any]) -> None:
    """Write a default with its unit, since a bare number is in the unit of the file; leave out whole default models."""
    default, unit = place.get("default"), _UNITS.get(place.get("format", ""))
    if isinstance(default, dict):
        del place["default"]
    elif default is not None and unit:
        place["default"] = f"{default:g} {unit}"


@lru_cache(maxsize=1)
def _schema() -> Mapping[str, Any]:
    return json_schema()


def _inside(place: Mapping[str, Any], key: Key) -> Mapping[str, Any]:
    if isinstance(key, int):
        inner = place.get("items", {})
    else:
        free = [place.get("additionalProperties"), *place.get("patternProperties", {}).values()]
        inner = place.get("properties", {}).get(key, free[-1])
    return inner if isinstance(inner, Mapping) else {}


def _plain(place: Mapping[str, Any], data: Any) -> Mapping[str, Any]:
    """The schema with references followed and choices made."""
    while True:
        if "$ref" in place:
            place = _schema()["$defs"][place["$ref"].rpartition("/")[2]]
        elif "discriminator" in place:
            kinds = place["discriminator"]
            tag = entered(data, kinds["propertyName"])
            place = {"$ref": kinds["mapping"][tag]} if tag in kinds["mapping"] else {}
        elif "anyOf" in place:
            place = next((choice for choice in place["anyOf"] if choice.get("type") != "null"), {})
        else:
            return place
