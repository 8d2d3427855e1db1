"""What the model validation refuses, in a detailer's words: which field, what is wrong, what to write."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import islice
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from panelgen.errors import BadValueError
from panelgen.spec.faults import Fault, pick
from panelgen.spec.lines import Path, entered, shown
from panelgen.spec.quantities import ID_PATTERN, LEVEL_PATTERN, PRODUCT_PATTERN
from panelgen.spec.schema import keys_at

__all__ = ["faults_of"]

_CORRECT = "correct this value"
_TAG = "layer"
_KEY = "[key]"
_CHOICE = re.compile(r"'([^']*)'|(\d+)")
_PATTERNS = {
    ID_PATTERN: ("this is not an id", "use up to 40 letters, digits and _.- and start with a letter or digit"),
    LEVEL_PATTERN: ("this is not a level id", "use one to three capital letters or digits, in quotes if only digits"),
    PRODUCT_PATTERN: ("this is not a product name", "use letters and digits with single _ . / - between them"),
}


def faults_of(error: ValidationError, data: Any, most: int) -> list[Fault]:
    """The faults of the file that `data` was read from, each once, and no more than `most`."""
    errors = (one for one in error.errors(include_url=False) if not _follows_from_another(one, data))
    faults = [_fault(one, data) for one in islice(errors, most)]
    meant = {(*fault.path[:-1], word) for fault in faults if (word := _meant(fault))}
    return [fault for fault in faults if not (fault.message == _MISSING and fault.path in meant)]


_MISSING = "this key is missing"
_NO_KEY = "there is no such key here"


def _meant(fault: Fault) -> str:
    """The key that an unknown key was meant to be, if one is near."""
    near = fault.remedy.removeprefix("did you mean ") if fault.message == _NO_KEY else fault.remedy
    return "" if near == fault.remedy else near.removesuffix("?")


def _follows_from_another(error: ErrorDetails, data: Any) -> bool:
    """True where a list only seems too short because some of its items are at fault."""
    if error["type"] != "too_short":
        return False
    written = _value(_path(error["loc"], data), data)
    return isinstance(written, (list, dict)) and len(written) >= error["ctx"]["min_length"]


def _fault(error: ErrorDetails, data: Any) -> Fault:
    path = _path(error["loc"], data)
    explain = _WORDS.get(error["type"])
    if explain is not None:
        return explain(path, error.get("ctx", {}), data)
    return Fault(path, error["msg"].lower(), _CORRECT, _shown(path, data))


def _path(loc: tuple[int | str, ...], data: Any) -> Path:
    """`loc` without the names that the validation adds for its own choices."""
    path: list[int | str] = []
    here, named = data, False
    for part in loc:
        if part == _KEY or (isinstance(here, dict) and not named and here.get(_TAG) == part):
            named = True
            continue
        path.append(part)
        here, named = entered(here, part), False
    return tuple(path)


def _value(path: Path, data: Any) -> Any:
    for key in path:
        data = entered(data, key)
    return data


def _shown(path: Path, data: Any) -> str:
    return shown(_value(path, data))


def _bad_value(path: Path, ctx: dict[str, Any], data: Any) -> Fault:
    error = ctx["error"]
    words, remedy = (error.words, error.remedy) if isinstance(error, BadValueError) else (str(error), _CORRECT)
    value = _value(path, data)
    return Fault(path, words, remedy, "" if isinstance(value, (dict, list)) else shown(value))


def _missing(path: Path, _: dict[str, Any], data: Any) -> Fault:
    if isinstance(path[-1], int):
        return Fault(path[:-1], "this has too few values", f"give at least {path[-1] + 1}", _shown(path[:-1], data))
    return Fault(path, _MISSING, "add it")


def _no_key(path: Path, _: dict[str, Any], data: Any) -> Fault:
    return Fault(path, _NO_KEY, pick(str(path[-1]), keys_at(path[:-1], data)), _shown(path, data))


def _literal(path: Path, ctx: dict[str, Any], data: Any) -> Fault:
    choices = [word or number for word, number in _CHOICE.findall(ctx["expected"])]
    value = _value(path, data)
    return Fault(path, "this is not one of the choices", pick(str(value), choices), shown(value))


def _tag(path: Path, ctx: dict[str, Any], data: Any) -> Fault:
    return _literal((*path, _TAG), {"expected": ctx["expected_tags"]}, data)


def _no_tag(path: Path, _ctx: dict[str, Any], _data: Any) -> Fault:
    return Fault((*path, _TAG), _MISSING, "write layer: sheathing, framing or strapping")


def _not_text(path: Path, _: dict[str, Any], data: Any) -> Fault:
    value = _value(path, data)
    if value is None:
        return Fault(path, "a value is missing", "write it after the colon", shown(value))
    if isinstance(value, (dict, list)):
        return Fault(path, "this must be text", "write one word or line", shown(value))
    return Fault(path, "this must be text", f'put it in quotes: "{shown(value)}"', shown(value))


def _size(path: Path, ctx: dict[str, Any], data: Any) -> Fault:
    least, most, value = ctx.get("min_length"), ctx.get("max_length"), _value(path, data)
    parts = "characters" if isinstance(value, str) else "values"
    if most is not None:
        return Fault(path, f"this has more than {most} {parts}", "shorten it", shown(value))
    return Fault(path, f"this has too few {parts}", f"give at least {least}", shown(value))


def _pattern(path: Path, ctx: dict[str, Any], data: Any) -> Fault:
    words, remedy = _PATTERNS[ctx["pattern"]]
    value = _value(path, data)
    return Fault(path, words, remedy, shown(value if isinstance(value, str) else path[-1]))


def _not_list(path: Path, _: dict[str, Any], data: Any) -> Fault:
    return Fault(path, "this must be a list", "write [a, b], or one '- item' a line", _shown(path, data))


def _not_mapping(path: Path, _: dict[str, Any], data: Any) -> Fault:
    keys = keys_at(path, data)
    remedy = f"give it the keys {', '.join(keys)}" if keys else "write 'name: value' lines under it"
    return Fault(path, "this must be a mapping of keys to values", remedy, _shown(path, data))


def _not_yes_no(path: Path, _: dict[str, Any], data: Any) -> Fault:
    return Fault(path, "this is neither true nor false", "write true or false", _shown(path, data))


def _not_positive(path: Path, _: dict[str, Any], data: Any) -> Fault:
    return Fault(path, "this must be greater than 0", "give a value greater than 0", _shown(path, data))


def _negative(path: Path, _: dict[str, Any], data: Any) -> Fault:
    return Fault(path, "this must not be negative", "give 0 or more", _shown(path, data))


def _too_great(path: Path, ctx: dict[str, Any], data: Any) -> Fault:
    most = f"{ctx['le']:g}"
    return Fault(path, f"this is more than {most}", f"give {most} or less", _shown(path, data))


def _not_whole(path: Path, _: dict[str, Any], data: Any) -> Fault:
    return Fault(path, "this is not a whole number", "write digits only", _shown(path, data))


def _not_number(path: Path, _: dict[str, Any], data: Any) -> Fault:
    return Fault(path, "this is not a number", "write a plain number", _shown(path, data))


_WORDS: dict[str, Callable[[Path, dict[str, Any], Any], Fault]] = {
    "bool_parsing": _not_yes_no,
    "bool_type": _not_yes_no,
    "dict_type": _not_mapping,
    "extra_forbidden": _no_key,
    "finite_number": _not_number,
    "float_parsing": _not_number,
    "float_type": _not_number,
    "greater_than": _not_positive,
    "greater_than_equal": _negative,
    "int_from_float": _not_whole,
    "int_parsing": _not_whole,
    "int_type": _not_whole,
    "less_than_equal": _too_great,
    "literal_error": _literal,
    "missing": _missing,
    "model_attributes_type": _not_mapping,
    "model_type": _not_mapping,
    "string_pattern_mismatch": _pattern,
    "string_too_long": _size,
    "string_too_short": _size,
    "string_type": _not_text,
    "too_long": _size,
    "too_short": _size,
    "tuple_type": _not_list,
    "union_tag_invalid": _tag,
    "union_tag_not_found": _no_tag,
    "value_error": _bad_value,
}
