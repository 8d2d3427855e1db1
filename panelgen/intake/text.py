"""The written house spec: YAML that a person can read and edit, one wall or opening a line."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from panelgen.intake.lengths import written
from panelgen.intake.names import comment
from panelgen.intake.remarks import Place, Remarks

__all__ = ["write"]

_PLAIN = re.compile(r"[A-Za-z]([A-Za-z0-9_./ -]*[A-Za-z0-9])?|[0-9]+x[0-9]+|[0-9]+ (psf|in)")
_WORDS = {"null", "true", "false", "yes", "no", "on", "off", "y", "n"}
"""Words that YAML does not read as text, in any case."""


def write(data: Mapping[str, Any], remarks: Remarks) -> str:
    """The spec `data` (plain mappings, lists, text, numbers, flags) as YAML with its remarks."""
    lines = [*_comments(remarks.head, ""), ""]
    for section, value in data.items():
        if isinstance(value, Mapping):
            lines += ["", f"{section}:", *_mapping(section, value, remarks)] if value else []
        elif isinstance(value, list):
            lines += ["", f"{section}:", *_list(section, value, remarks)] if value else []
        else:
            lines.append(f"{section}: {_scalar(value)}")
    return "\n".join([*lines, "", *_comments(remarks.tail, "")]) + "\n"


def _mapping(section: str, entries: Mapping[str, Any], remarks: Remarks) -> Iterator[str]:
    for key, value in entries.items():
        notes = remarks.at.get((section, key), ())
        if isinstance(value, Mapping) and "layers" in value:
            yield f"  {_scalar(key)}:"
            yield from _comments(notes, "    ")
            yield "    layers:"
            yield from (f"      - {_flow(layer)}" for layer in value["layers"])
        elif isinstance(value, Mapping):
            yield f"  {_scalar(key)}: {_flow(value)}"
        else:
            yield f"  {_scalar(key)}: {_scalar(value)}" + "".join(f"  {line}" for line in _comments(notes, ""))


def _list(section: str, entries: Sequence[Mapping[str, Any]], remarks: Remarks) -> Iterator[str]:
    for entry in entries:
        if "walls" not in entry:
            yield from _comments(_notes(remarks, (section, entry["id"])), "  ")
            yield f"  - {_flow(entry)}"
            continue
        yield from _comments(_notes(remarks, (section, entry["id"])), "  ")
        fields = [f"{key}: {_scalar(value)}" for key, value in entry.items() if key != "walls"]
        yield from (f"  {'-' if n == 0 else ' '} {field}" for n, field in enumerate(fields))
        yield "    walls:"
        for wall in entry["walls"]:
            yield from _comments(_notes(remarks, ("walls", wall["wall"])), "      ")
            yield f"      - {_flow(wall)}"


def _notes(remarks: Remarks, place: Place) -> tuple[str, ...]:
    return remarks.at.get(place, ())


def _comments(lines: Sequence[str], indent: str) -> list[str]:
    """Comment lines, each on one line whatever the model's names hold; a line's own indent is kept."""
    return [f"{indent}# {' ' * (len(line) - len(line.lstrip(' ')))}{comment(line)}" for line in lines]


def _flow(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_scalar(key)}: {_flow(part)}" for key, part in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(map(_flow, value)) + "]"
    return _scalar(value)


def _scalar(value: Any) -> str:
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return written(value)
    text = str(value)
    if _PLAIN.fullmatch(text) and text.lower() not in _WORDS:
        return text
    return json.dumps(text, ensure_ascii=not text.isprintable())
