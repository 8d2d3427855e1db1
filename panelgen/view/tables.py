"""What is said about parts and findings, as compact JSON beside the shapes.

A table of parts is ``{"words": [...], "whys": [[rule, words, source], ...], "rows": [...]}``. A row is [id, mark,
kind, what, layer, stock, sizes, mass, why, of, count]: kind, what, layer and stock are places in ``words``, why one
in ``whys``; sizes are mm to 0.01, mass kg to 0.001 or null; `of` is the run it belongs to, or empty. The rows come
in the order in which the parts are built in.

Findings are a list of {code, severity, words, parts, point, value, limit, unit, source, waived}, `point` in panel
coordinates (of the house: in house coordinates) or null.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import Any

from panelgen.model import Finding
from panelgen.view.parts import Part

__all__ = ["findings_table", "parts_table"]

_SIZE_DECIMALS = 2
_MASS_DECIMALS = 3


def parts_table(parts: Sequence[Part]) -> bytes:
    """The table of a panel's parts, UTF-8."""
    words: dict[str, int] = {}
    whys: dict[tuple[str, str, str], int] = {}

    def row(part: Part) -> list[Any]:
        said = (part.kind, part.what, part.layer.value, part.stock)
        kind, what, layer, stock = (words.setdefault(word, len(words)) for word in said)
        why = whys.setdefault((part.why.rule, part.why.words, part.why.source), len(whys))
        sizes = [round(size, _SIZE_DECIMALS) for size in part.sizes]
        mass = None if part.mass is None else round(part.mass, _MASS_DECIMALS)
        return [part.id, part.mark, kind, what, layer, stock, sizes, mass, why, part.of, part.count]

    rows = [row(part) for part in parts]
    return _json({"words": list(words), "whys": list(whys), "rows": rows})


def findings_table(findings: Iterable[Finding]) -> bytes:
    """The findings of one panel, or of the house as a whole, UTF-8."""
    return _json([_finding(finding) for finding in findings])


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "words": finding.words,
        "parts": finding.parts,
        "point": finding.point if finding.panel else finding.house_point,
        "value": finding.value,
        "limit": finding.limit,
        "unit": finding.unit,
        "source": finding.source,
        "waived": finding.waived_by,
    }


def _json(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()
