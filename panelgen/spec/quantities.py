"""Field types for quantities with units. Every value is kept in millimetres, kilograms or SI-derived units.

A bare number in a length field is in the file's declared unit, which travels in the validation
context under ``unit`` (default ``mm``).
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema

from panelgen.units import parse_density, parse_length, parse_mass, parse_pressure

__all__ = ["Density", "Id", "Length", "Mass", "PositiveLength", "Pressure"]


def _length(value: Any, info: ValidationInfo) -> float:
    return parse_length(value, (info.context or {}).get("unit", "mm"))


def _schema(words: str, examples: list[Any]) -> WithJsonSchema:
    return WithJsonSchema({"type": ["number", "string"], "description": words, "examples": examples})


Length = Annotated[
    float,
    BeforeValidator(_length),
    _schema("length; a bare number is in the file's unit", ["24 in", "7'-6 1/2\"", "2438 mm", 600]),
]
PositiveLength = Annotated[Length, Field(gt=0)]
Mass = Annotated[float, BeforeValidator(parse_mass), Field(gt=0), _schema("mass", ["2500 lb", "1100 kg"])]
Pressure = Annotated[
    float, BeforeValidator(parse_pressure), Field(ge=0), _schema("load on an area, kept in kPa", ["30 psf", "1.44 kPa"])
]
Density = Annotated[
    float, BeforeValidator(parse_density), Field(gt=0), _schema("density, kept in kg/m3", ["3.5 pcf", "56 kg/m3"])
]
Id = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.-]{0,39}$")]
