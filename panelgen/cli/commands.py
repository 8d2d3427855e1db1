"""One function a command: each takes the parsed arguments, prints, and returns the exit code."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections.abc import Iterable, Sequence

import panelgen
from panelgen import api
from panelgen.errors import BadValueError
from panelgen.files import whole_file
from panelgen.model import Finding, House
from panelgen.report.record import report_json
from panelgen.report.text import assumptions_text, findings_text
from panelgen.report.totals import count_findings

__all__ = ["build", "check", "intake", "joints", "schedule", "schema", "thermal"]


def check(arguments: Namespace) -> int:
    """Print the findings of a house, or of some of its panels, and write them to the files asked for."""
    written = [file for file in (arguments.html, arguments.bcf) if file]
    if arguments.house.resolve() in [file.resolve() for file in written]:
        raise BadValueError(f"{arguments.house} is the house spec itself", "write the findings to another file")
    house, found = _checked(arguments)
    panels = api.pick(house, arguments.panel)
    findings = api.about(panels, found)
    if arguments.html:
        api.write_html(house, findings, arguments.html, arguments.panel)
    if arguments.bcf:
        api.write_bcf(house, findings, arguments.bcf)
    if arguments.json:
        sys.stdout.write(report_json(house, panels, findings, panelgen.__version__))
        return _code(findings)
    sys.stdout.write(findings_text(house, panels, findings))
    if arguments.assumptions:
        sys.stdout.write("\n" + assumptions_text(house.assumptions))
    else:
        _mention_assumptions(house, "list them with --assumptions")
    for file in written:
        print(file)
    return _code(findings)


def _checked(arguments: Namespace) -> tuple[House, tuple[Finding, ...]]:
    """The house asked about and its findings: of the changed spec, where ways out are to be applied."""
    if arguments.apply_proposals:
        applied = api.apply_proposals(arguments.house, arguments.apply_proposals)
        heads = [f"{one.finding.panel} {one.finding.code}: {one.proposal.words}" for one in applied.solved]
        lines = [*heads, f"{arguments.apply_proposals}: {len(heads)} ways out applied", ""]
        print("\n".join(lines), file=sys.stderr if arguments.json else sys.stdout)
        return applied.house, applied.findings
    spec = api.load(arguments.house)
    house = api.design(spec)
    findings = api.check(house)
    return house, api.propose(spec, house, findings) if arguments.propose else findings


def build(arguments: Namespace) -> int:
    """Write the models, whatever the findings (they are for review), and print files and findings."""
    house = api.design(api.load(arguments.house))
    files = api.build(house, arguments.out, arguments.panel, progress=_progress)
    panels = api.pick(house, arguments.panel)
    findings = api.about(panels, api.check(house))
    for file in files:
        print(file)
    sys.stdout.write("\n" + findings_text(house, panels, findings))
    _mention_assumptions(house, "they are listed in assumptions.txt")
    return _code(findings)


def intake(arguments: Namespace) -> int:
    """Write a house spec from an IFC model, and list what did not come through and why."""
    if arguments.out.exists():
        raise BadValueError(f"{arguments.out} is there already", "give the spec a new name, or move the old one away")
    found = api.read_ifc(arguments.model)
    with whole_file(arguments.out) as scratch:
        scratch.write_text(found.spec_text, encoding="utf-8", newline="\n")
    counts = found.counts
    print(arguments.out)
    print(f"walls: {counts.walls_taken} of {counts.walls}, openings: {counts.openings_taken} of {counts.openings}")
    for reason, items in _grouped((item.reason, f"{item.kind} {item.name or item.guid}") for item in found.left):
        print(f"  left out: {reason}: {', '.join(items)}")
    taken = (*found.taken_walls, *found.taken_openings)
    for note, ids in _grouped((note, part.id) for part in taken for note in part.notes):
        print(f"  to confirm: {note}: {', '.join(ids)}")
    return 0


def joints(arguments: Namespace) -> int:
    """Print every joint and its seals, as CSV, then the length of each seal in all."""
    from panelgen.plans import joints_csv

    house = api.design(api.load(arguments.house))
    sys.stdout.write(joints_csv(api.joints(house)))
    return 0


def schedule(arguments: Namespace) -> int:
    """Print what services take, as CSV: the rows of each panel, then the totals."""
    from panelgen.plans import schedule_csv

    house = api.design(api.load(arguments.house))
    sys.stdout.write(schedule_csv(api.schedule(house, arguments.panel)))
    return 0


def thermal(arguments: Namespace) -> int:
    """Print resistance and U of the panels of the shell, and of all of it, and what covers the airtight ones."""
    from panelgen.plans.thermal import thermal_json, thermal_text

    house = api.design(api.load(arguments.house))
    report, cover = api.thermal(house, arguments.panel), api.insulation(house, arguments.panel)
    sys.stdout.write(thermal_json(report, cover) if arguments.json else thermal_text(report, cover))
    return 0


def schema(arguments: Namespace) -> int:  # noqa: ARG001 - every command takes its arguments
    """Print the JSON Schema of a house spec."""
    from panelgen.spec.schema import json_schema

    print(json.dumps(json_schema(), indent=2, sort_keys=True))
    return 0


def _grouped(pairs: Iterable[tuple[str, str]]) -> Iterable[tuple[str, list[str]]]:
    """Second items by their first, both in order of first mention."""
    groups: dict[str, list[str]] = {}
    for reason, item in pairs:
        groups.setdefault(reason, []).append(item)
    return groups.items()


def _code(findings: Sequence[Finding]) -> int:
    return 1 if count_findings(findings).stop else 0


def _mention_assumptions(house: House, where: str) -> None:
    if house.assumptions:
        print(f"{len(house.assumptions)} values that decide something were assumed; {where}.")


def _progress(what: str, number: int, total: int) -> None:
    if sys.stderr.isatty():
        print(f"\r\033[K{number}/{total} {what}", end="\n" if number == total else "", file=sys.stderr, flush=True)
