"""Field types of the spec: quantities with units, ids, names and free text.

Every quantity is kept in millimetres, kilograms or SI-derived units. A bare number in a length field
is in the file's declared unit, which travels in the validation context under ``unit`` (default ``mm``).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, ValidationInfo, WithJsonSchema

from panelgen.errors import BadValueError
from panelgen.units import parse_density, parse_length, parse_mass, parse_pressure

__all__ = [
    "ID_PATTERN",
    "LEVEL_PATTERN",
    "PRODUCT_PATTERN",
    "Density",
    "Depth",
    "Gap",
    "HouseName",
    "Id",
    "Length",
    "LevelId",
    "Mass",
    "Measure",
    "Name",
    "PositiveLength",
    "Pressure",
    "ProductName",
    "SomeLength",
    "Spacing",
    "Text",
]

ID_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9_.-]{0,39}$"
LEVEL_PATTERN = r"^[A-Z0-9]{1,3}$"
PRODUCT_PATTERN = r"^[A-Za-z0-9]+(?:[_./-][A-Za-z0-9]+)*$"

_LEAST_SPACING = 100.0  # less is a slip of the pen: sticks would touch
_GREATEST_GAP = 50.0  # more is a slip of the pen: sheets would miss their stud
_NAME_SIGNS = " .,'()-"
_DEPTH_WORDS = ("cavity", "framing")


@dataclass(frozen=True, slots=True)
class Measure:
    """What a number measures: ``mm``, ``kg``, ``kPa`` or ``kg/m3``."""

    unit: str


def _length(value: Any, info: ValidationInfo) -> float:
    return parse_length(value, (info.context or {}).get("unit", "mm"))


def _depth(value: Any, info: ValidationInfo) -> Any:
    if not isinstance(value, str) or any(sign.isdigit() for sign in value):
        return _length(value, info)
    if value.strip() not in _DEPTH_WORDS:
        raise BadValueError("this is neither a depth word nor a length", "write cavity, framing, or a length")
    return value.strip()


def _not_tiny(value: float) -> float:
    if value < _LEAST_SPACING:
        raise BadValueError("this is less than 100 mm (4 in)", "check the unit, and give 100 mm or more")
    return value


def _small(value: float) -> float:
    if value > _GREATEST_GAP:
        raise BadValueError("this is more than 50 mm (2 in)", "check the unit, and give 50 mm or less")
    return value


def _one_line(text: str) -> str:
    line = " ".join(text.split())
    if not line.isprintable():
        raise BadValueError("this text holds control characters", "write plain text on one line")
    return line


def _name(text: str, signs: str = f"{_NAME_SIGNS}_+") -> str:
    if not all(sign.isalnum() or sign in signs for sign in text):
        raise BadValueError(
            "this name holds a sign that names cannot", f"use letters, digits, spaces and {signs[1:]} only"
        )
    if not text[0].isalnum() or text[-1] == ".":
        raise BadValueError("a name starts with a letter or digit and does not end in a dot", "change its ends")
    return text


def _house_name(text: str) -> str:
    return _name(text, _NAME_SIGNS)


def _schema(format: str, words: str, examples: list[Any], **limits: float) -> WithJsonSchema:
    return WithJsonSchema(
        {"type": ["number", "string"], "format": format, "description": words, "examples": examples, **limits}
    )


def _length_schema(**limits: float) -> WithJsonSchema:
    words = "length; a bare number is in the file's unit"
    return _schema("length", words, ["24 in", "7'-6 1/2\"", "2438 mm", 600], **limits)


Length = Annotated[float, BeforeValidator(_length), Measure("mm"), _length_schema()]
PositiveLength = Annotated[
    float, BeforeValidator(_length), Measure("mm"), Field(gt=0), _length_schema(exclusiveMinimum=0)
]
SomeLength = Annotated[float, BeforeValidator(_length), Measure("mm"), Field(ge=0), _length_schema(minimum=0)]
"""A length that may be zero."""
Spacing = Annotated[PositiveLength, AfterValidator(_not_tiny)]
"""Distance between repeated parts, or a side of a sheet."""
Gap = Annotated[SomeLength, AfterValidator(_small)]
Depth = Annotated[
    Literal["cavity", "framing"] | float,
    BeforeValidator(_depth),
    _schema(
        "length",
        "length toward the weather from the inner face of the framing, or a word",
        ["cavity", "framing", "2 in"],
    ),
]
Mass = Annotated[
    float,
    BeforeValidator(parse_mass),
    Measure("kg"),
    Field(gt=0),
    _schema("mass", "mass; a bare number is kg", ["2500 lb", "1100 kg"], exclusiveMinimum=0),
]
Pressure = Annotated[
    float,
    BeforeValidator(parse_pressure),
    Measure("kPa"),
    Field(ge=0),
    _schema("pressure", "load on an area; a bare number is kPa", ["30 psf", "1.44 kPa"], minimum=0),
]
Density = Annotated[
    float,
    BeforeValidator(parse_density),
    Measure("kg/m3"),
    Field(gt=0),
    _schema("density", "density; a bare number is kg/m3", ["3.5 pcf", "56 kg/m3"], exclusiveMinimum=0),
]
Id = Annotated[str, Field(pattern=ID_PATTERN)]
ProductName = Annotated[str, Field(max_length=40, pattern=PRODUCT_PATTERN)]
LevelId = Annotated[str, Field(pattern=LEVEL_PATTERN)]
Name = Annotated[str, Field(min_length=1, max_length=60), AfterValidator(_name)]
"""What a person calls an assembly or a unit type."""
HouseName = Annotated[str, Field(min_length=1, max_length=80), AfterValidator(_house_name)]
"""A name that is safe as the name of a folder."""
Text = Annotated[str, Field(min_length=1), AfterValidator(_one_line)]
