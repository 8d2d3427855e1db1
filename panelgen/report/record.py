"""The report as one JSON document, stable between versions of the tool.

Top level: ``schema`` (the name of this layout), ``version`` (raised when a key changes its meaning or
goes away), ``tool`` (panelgen's version), ``house``, ``rules``, ``panels`` (labels covered), ``totals``,
``counts``, ``findings``, ``assumptions``, ``partitions``, ``trusses``.

A finding has ``code``, ``severity`` (stop, warn, note), ``words``,
``panel`` (empty: the whole house), ``parts``, ``point`` (panel coordinates) and ``house_point`` (both
[x, y, z] in mm, or null), ``value``, ``limit`` and ``unit`` (numbers or null), ``source``, ``waived_by`` (empty: it
stands), and ``proposal`` (null, or ``words``, ``cost`` in mm and ``changes`` of the spec, each with ``path``, ``old``
and ``new``).

A partition is the split of a ``wall``, or by its ``kind`` of a rectangle of a floor or ceiling, or a convex part of a
roof plane: its ``start`` and ``length``, its ``joints``, those ``across`` its sticks (each where its column begins and
ends, and how far along the sticks), how many ``candidates`` there were for the first, how many ``legal`` splits, how
many of them with the ``fewest`` panels, and the ``cost`` of the best: ``panels``, ``waste`` of sheathing (m2),
``squared_masses`` (kg2), or null where there was one choice or none. ``method`` says how it was found, ``panels`` how
many it makes, ``least`` what no split has fewer of, and ``gap`` how many more there are, null where none is legal.

A truss is supplied and in no total: its ``id``, ``row``, ``level``, ``bearings`` (walls), ``span``, ``mass``,
``plies``, ``bracing_rows`` and ``origin`` (house coordinates, on the first wall). Lengths are mm, masses kg, rounded to
0.001. Keys are sorted.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from panelgen.model import Finding, House, Panel, Partition, Truss
from panelgen.report.totals import count_findings, count_parts

__all__ = ["SCHEMA", "VERSION", "report_json"]

SCHEMA = "panelgen-check"
VERSION = 1

_DECIMALS = 3


def report_json(house: House, panels: Sequence[Panel], findings: Sequence[Finding], tool: str) -> str:
    """The document for `panels` of `house`, made by version `tool`, ending in a newline."""
    document = {
        "schema": SCHEMA,
        "version": VERSION,
        "tool": tool,
        "house": house.name,
        "rules": house.rules,
        "panels": [panel.label for panel in panels],
        "totals": asdict(count_parts(panels)),
        "counts": asdict(count_findings(findings)),
        "findings": [asdict(finding) for finding in findings],
        "assumptions": [asdict(assumption) for assumption in house.assumptions],
        "partitions": [_partition(partition) for partition in house.partitions],
        "trusses": [_truss(truss) for truss in house.trusses],
    }
    return json.dumps(_rounded(document), sort_keys=True, indent=2, allow_nan=False) + "\n"


def _partition(partition: Partition) -> dict[str, Any]:
    return {**asdict(partition), **{key: getattr(partition, key) for key in ("method", "panels", "gap")}}


def _truss(truss: Truss) -> dict[str, Any]:
    told = ("id", "row", "level", "bearings", "span", "mass", "plies", "bracing_rows")
    return {**{key: getattr(truss, key) for key in told}, "origin": truss.frame.origin}


def _rounded(value: Any) -> Any:
    match value:
        case dict():
            return {key: _rounded(item) for key, item in value.items()}
        case list() | tuple():
            return [_rounded(item) for item in value]
        case float():
            return round(value, _DECIMALS) + 0.0
        case _:
            return value
