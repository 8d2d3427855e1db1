"""What is said about parts and findings, as compact JSON beside the shapes.

A table of parts is ``{"words": [...], "whys": [[rule, words, source], ...], "rows": [...]}``. A row is [id, mark,
kind, what, layer, stock, sizes, mass, why, of, count]: kind, what, layer and stock are places in ``words``, why one
in ``whys``; sizes are mm to 0.01, mass kg to 0.001 or null; `of` is the run it belongs to, or empty. The rows come
in the order in which the parts are built in.

Findings are a list of {key, code, severity, words, parts, point, value, limit, unit, source, waived, proposal}: `point`
in panel coordinates (of the house: in house coordinates) or null, `proposal` {words, ready} or null, where ready says
that there is a change to make and not only a decision.

Causes are the findings of all that is shown in groups, worst first: {words, family, severity, waived, keys}.
"""

from __future__ import annotations

import json
from collections.abc import Hashable, Iterable, Sequence
from hashlib import blake2b
from itertools import islice
from typing import Any

import numpy as np

from panelgen.model import Finding
from panelgen.review.groups import FindingGroup
from panelgen.view.parts import Part

__all__ = ["causes_table", "finding_key", "findings_table", "parts_table"]

_SIZE_DECIMALS = 2
_MASS_DECIMALS = 3
_KEY_BYTES = 8


class _Places(dict[Hashable, int]):
    """The place of each thing among those asked for, in the order in which they first were."""

    def __missing__(self, thing: Hashable) -> int:
        place = self[thing] = len(self)
        return place


def parts_table(parts: Sequence[Part]) -> bytes:
    """The table of a panel's parts, UTF-8."""
    words, whys = _Places(), _Places()
    sizes = iter(np.round([size for part in parts for size in part.sizes], _SIZE_DECIMALS).tolist())
    rows = [
        [
            part.id,
            part.mark,
            words[part.kind],
            words[part.what],
            words[part.layer],
            words[part.stock],
            list(islice(sizes, len(part.sizes))),
            None if part.mass is None else round(part.mass, _MASS_DECIMALS),
            whys[part.why.rule, part.why.words, part.why.source],
            part.of,
            part.pieces,
        ]
        for part in parts
    ]
    return _json({"words": list(words), "whys": list(whys), "rows": rows})


def finding_key(finding: Finding) -> str:
    """What a finding is known by between Python and a page: equal while it says the same of the same place."""
    said = (finding.code, finding.panel, finding.parts, finding.point, finding.house_point, finding.words)
    return blake2b(_json(said), digest_size=_KEY_BYTES).hexdigest()


def findings_table(findings: Iterable[Finding]) -> bytes:
    """The findings of one panel, or of the house as a whole, UTF-8."""
    return _json([_finding(finding) for finding in findings])


def causes_table(groups: Iterable[FindingGroup]) -> bytes:
    """The groups of all findings, UTF-8."""
    return _json(
        [
            {
                "words": group.cause.words,
                "family": group.family,
                "severity": group.severity,
                "waived": group.waived_by,
                "keys": [finding_key(finding) for finding in group.findings],
            }
            for group in groups
        ]
    )


def _finding(finding: Finding) -> dict[str, Any]:
    proposal = finding.proposal
    return {
        "key": finding_key(finding),
        "code": finding.code,
        "severity": finding.severity,
        "words": finding.words,
        "parts": finding.parts,
        "point": finding.point if finding.panel else finding.house_point,
        "value": finding.value,
        "limit": finding.limit,
        "unit": finding.unit,
        "source": finding.source,
        "waived": finding.waived_by,
        "proposal": proposal and {"words": proposal.words, "ready": bool(proposal.changes)},
    }


def _json(value: Any) -> bytes:
    return _COMPACT.encode(value).encode()


_COMPACT = json.JSONEncoder(ensure_ascii=False, check_circular=False, allow_nan=False, separators=(",", ":"))
