"""The commands and their options."""

from __future__ import annotations

import argparse
from pathlib import Path

import panelgen
from panelgen.cli import commands
from panelgen.cli.routing import add_route

__all__ = ["parser"]


def parser() -> argparse.ArgumentParser:
    """The parser; what it returns carries the command to run as `run`."""
    top = argparse.ArgumentParser(
        prog="panelgen",
        description="Off-site wood panels: from a house spec to checked panels and models for review.",
        epilog="Exit codes: 0 clean, 1 stop findings, 2 bad input.",
    )
    top.add_argument("--version", action="version", version=f"panelgen {panelgen.__version__}")
    verbs = top.add_subparsers(title="commands", required=True, metavar="COMMAND")

    check = verbs.add_parser("check", help="design every panel, check it and print the findings")
    _house(check)
    check.add_argument("--json", action="store_true", help="print one JSON document instead of the table")
    check.add_argument("--assumptions", action="store_true", help="list every default that decided something")
    check.add_argument("--html", type=Path, metavar="FILE", help="also write the findings as a page with pictures")
    check.add_argument("--bcf", type=Path, metavar="FILE", help="also write the findings as topics for a model viewer")
    check.add_argument("--propose", action="store_true", help="look for a way out of each stop finding")
    check.add_argument(
        "--apply-proposals",
        type=Path,
        metavar="OUT.yaml",
        help="write the spec with every way out applied, and check that house",
    )
    check.set_defaults(run=commands.check)

    build = verbs.add_parser("build", help="check, and write STEP and STL models for review")
    _house(build)
    build.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder to write, whole or not at all")
    build.set_defaults(run=commands.build)

    joints = verbs.add_parser("joints", help="print what meets where, its seals and fasteners, as CSV")
    joints.add_argument("house", type=Path, metavar="HOUSE.yaml")
    joints.set_defaults(run=commands.joints)

    schedule = verbs.add_parser("schedule", help="print runs, fittings, boxes, plates and supports by panel, as CSV")
    _house(schedule)
    schedule.set_defaults(run=commands.schedule)

    thermal = verbs.add_parser("thermal", help="print resistance and U of the panels from the framing that is there")
    _house(thermal)
    thermal.add_argument("--json", action="store_true", help="print one JSON document instead of the table")
    thermal.set_defaults(run=commands.thermal)

    add_route(verbs)

    intake = verbs.add_parser("import", help="make a house spec from the walls and openings of an IFC model")
    intake.add_argument("model", type=Path, metavar="MODEL.ifc")
    intake.add_argument("--out", type=Path, required=True, metavar="HOUSE.yaml", help="new file to write")
    intake.set_defaults(run=commands.intake)

    schema = verbs.add_parser("schema", help="print the JSON Schema of a house spec")
    schema.set_defaults(run=commands.schema)
    return top


def _house(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("house", type=Path, metavar="HOUSE.yaml")
    verb.add_argument(
        "--panel", action="append", default=[], metavar="LABEL", help="only this panel; may be given several times"
    )
