"""Ways out of stop findings: proposed beside the findings, or applied to a copy of the spec."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from panelgen.api.verbs import check, design, load
from panelgen.catalog import Catalog
from panelgen.errors import BadValueError
from panelgen.files import whole_file
from panelgen.model import Finding, House
from panelgen.proposals import Solved, Standing, decision, is_open, solve_all, way_out, with_changes
from panelgen.spec import HouseSpec
from panelgen.spec.loader import loads

__all__ = ["Applied", "apply_proposals", "propose"]


@dataclass(frozen=True, slots=True, eq=False)
class Applied:
    """What came of applying proposals: which findings they solved, in order, and the house of the new spec."""

    solved: tuple[Solved, ...]
    spec: HouseSpec
    house: House
    findings: tuple[Finding, ...]


def propose(
    spec: HouseSpec, house: House, findings: Sequence[Finding], catalog: Catalog | None = None
) -> tuple[Finding, ...]:
    """The findings of a house with the least way out of each stop finding, where one is found.

    Each proposal is for the house as it is; two of them may not go together, which `apply_proposals` sees to.
    """
    standing = Standing.of(spec, house, findings, catalog)
    return tuple(_with_proposal(standing, finding) if is_open(finding) else finding for finding in findings)


def apply_proposals(path: Path | str, out: Path | str) -> Applied:
    """Write the spec at `path` to `out` with a way out applied for every stop finding that has one.

    Only the runs, boxes and sleeves that move are changed; comments and everything else stay. What is returned was
    designed and checked anew from the text of `out`. Raises SpecError for bad input, BadValueError where `out` is the
    spec itself, ExportError where it cannot be written.
    """
    path, out = Path(path), Path(out)
    if path.resolve() == out.resolve():
        raise BadValueError(f"{path} is the house spec itself", "write the changed spec to another file")
    spec = load(path)
    house = design(spec)
    _, solved = solve_all(Standing.of(spec, house, check(house)))
    changes = [change for one in solved for change in one.proposal.changes]
    text = with_changes(path.read_text(encoding="utf-8"), changes, spec.unit)
    spec = loads(text, str(out))
    with whole_file(out) as scratch:
        scratch.write_bytes(text.encode())
    house = design(spec)
    return Applied(solved, spec, house, check(house))


def _with_proposal(standing: Standing, finding: Finding) -> Finding:
    found = way_out(standing, finding)
    return replace(finding, proposal=found[0] if found is not None else decision(standing, finding))
