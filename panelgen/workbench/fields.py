"""A field of a spec model as a control: what kind it is, its limits, and its value in the units of the file.

All of it is read off the schema of the model, so a new field of the spec needs nothing here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Literal

from pydantic import BaseModel

from panelgen.spec.lines import Path, dotted
from panelgen.spec.scalars import resolved
from panelgen.units import LENGTH_UNITS, MM_PER_INCH, format_length

__all__ = ["Control", "Kind", "Options", "Reach", "Sliders", "controls_of", "length_control", "written_length"]

Kind = Literal["length", "number", "choice", "switch"]
Options = Callable[[type[BaseModel], str], Sequence[str] | None]
"""The words that a text field may hold, by model and field; None where there is no list of them."""

Reach = Mapping[str, tuple[float, float]]
"""How far the slider of a length goes, mm, by field; from half to twice the value where nothing is said."""

_DECIMALS = 5
_SLACK = 1e-9
_SLIDER_STEPS = 120
_STRIDES_MM = (1.0, 5.0, 10.0, 25.0, 50.0)
_STRIDES_IN = (1 / 16, 1 / 8, 1 / 4, 1 / 2, 1.0, 2.0)


@dataclass(frozen=True, slots=True)
class Control:
    """One value to turn: `paths` are the places of the spec that it sets, all to the same.

    `value` is what the spec holds (lengths in mm, None for nothing), `text` how a person writes it. A length has
    the ends and the step of its slider, mm; a number, which is a mass or a count, is only written; a choice has
    `choices`. `hint` says where it stands and what it may be.
    """

    paths: tuple[Path, ...]
    label: str
    kind: Kind
    value: Any
    text: str
    hint: str
    low: float = 0.0
    high: float = 0.0
    step: float = 0.0
    choices: tuple[str, ...] = ()
    optional: bool = False

    @property
    def steps(self) -> int:
        """How many steps the slider of a length has; 0 for none."""
        return max(0, math.floor((self.high - self.low) / self.step + _SLACK)) if self.step else 0

    @property
    def place(self) -> int:
        """The step of the slider that is nearest to the value."""
        return 0 if not self.steps or self.value is None else round((float(self.value) - self.low) / self.step)

    def read(self, text: str) -> Any:
        """What a person wrote or chose, as the file holds it; None for nothing."""
        text = text.strip()
        is_word = self.kind == "choice" and not isinstance(self.value, int)
        return text or None if is_word else resolved(text)

    def at(self, place: int) -> float:
        """The length at a step of the slider, mm."""
        return self.low + min(max(place, 0), self.steps) * self.step

    @property
    def id(self) -> str:
        """Names the control as long as it stands for the same places."""
        return " ".join(map(dotted, self.paths))


class Sliders:
    """Sliders of lengths as they were first seen: one that is held must not move away under the hand."""

    def __init__(self) -> None:
        self._known: dict[str, Control] = {}

    def steady(self, control: Control) -> Control:
        """A control with the slider that it had before, where that reaches its value."""
        if control.kind != "length":
            return control
        known = self._known.get(control.id, control)
        if control.value is None or known.low <= float(control.value) <= known.high:
            control = replace(control, low=known.low, high=known.high, step=known.step)
        self._known[control.id] = control
        return control


def controls_of(model: BaseModel, path: Path, unit: str, options: Options, reach: Reach) -> Iterator[Control]:
    """A control for every field of a model that is a length, a number, a choice or a switch; of models in it too."""
    for name, place in _schema(type(model)).items():
        value, here = getattr(model, name), (*path, name)
        if isinstance(value, BaseModel):
            for inner in controls_of(value, here, unit, options, reach):
                yield replace(inner, label=f"{_words(name)} {inner.label}")
            continue
        plain, optional = _plain(place)
        if plain.get("format") == "length":
            yield length_control((here,), _words(name), value, unit, plain, reach.get(name), optional)
        elif plain.get("format") == "mass" or (plain.get("type") == "integer" and "enum" not in plain):
            text = "" if value is None else f"{value:g} kg" if plain.get("format") == "mass" else str(value)
            yield Control((here,), _words(name), "number", value, text, dotted(here), optional=optional)
        elif plain.get("type") == "boolean":
            yield Control((here,), _words(name), "switch", value, _word(value), dotted(here), optional=optional)
        elif (choices := _choices(plain, options(type(model), name))) and len(choices) > 1:
            yield Control(
                (here,), _words(name), "choice", value, _word(value), dotted(here), choices=choices, optional=optional
            )


def length_control(
    paths: tuple[Path, ...],
    label: str,
    value: float | None,
    unit: str,
    limits: Mapping[str, Any] | None = None,
    reach: tuple[float, float] | None = None,
    optional: bool = False,
) -> Control:
    """A control for a length, mm; `limits` are those of JSON Schema."""
    limits = limits or {}
    least = float(limits.get("minimum", limits.get("exclusiveMinimum", -math.inf)))
    low, high = reach or ((value or 0.0) / 2, (value or 0.0) * 2)
    low, high = max(min(low, value or low), least), max(high, value or high)
    stride = _stride(high - low, unit)
    low = math.ceil(low / stride - _SLACK) * stride
    if low <= least and "exclusiveMinimum" in limits:
        low += stride
    where = ", ".join(map(dotted, paths[:2])) + (f" and {len(paths) - 2} more" if len(paths) > 2 else "")
    bound = "at least 0" if "minimum" in limits else "more than 0" if "exclusiveMinimum" in limits else "any length"
    text = "" if value is None else format_length(value, unit)
    return Control(paths, label, "length", value, text, f"{where}: {bound}", low, high, stride, optional=optional)


def written_length(mm: float, unit: str) -> float | int | str:
    """A length as a file in `unit` holds it: a bare number, in feet as feet and inches."""
    if unit == "ft":
        return format_length(mm, unit)
    length = round(mm / LENGTH_UNITS[unit], _DECIMALS)
    return int(length) if length.is_integer() else length


def _stride(span: float, unit: str) -> float:
    """A step that a person would take on a slider, mm."""
    strides = [inch * MM_PER_INCH for inch in _STRIDES_IN] if unit in ("in", "ft") else _STRIDES_MM
    return next((stride for stride in strides if stride * _SLIDER_STEPS >= span), strides[-1])


@lru_cache(maxsize=64)
def _schema(model: type[BaseModel]) -> Mapping[str, Any]:
    """The fields of a model as JSON Schema."""
    whole = model.model_json_schema()
    return dict(whole.get("properties", {}))


def _plain(place: Mapping[str, Any]) -> tuple[Mapping[str, Any], bool]:
    """A field without the choice of leaving it out, and whether there is that choice."""
    ways = place.get("anyOf", [place])
    values = [way for way in ways if way.get("type") != "null"]
    return (values[0] if len(values) == 1 else {}), len(values) < len(ways)


def _choices(place: Mapping[str, Any], options: Sequence[str] | None) -> tuple[str, ...]:
    return tuple(options) if options is not None else tuple(map(_word, place.get("enum", ())))


def _words(name: str) -> str:
    return name.replace("_", " ")


def _word(value: Any) -> str:
    return {None: "", True: "true", False: "false"}[value] if value is None or isinstance(value, bool) else str(value)
