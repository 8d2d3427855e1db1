"""`panelgen route`: its options, and what it prints."""

from __future__ import annotations

import argparse
import math
from argparse import Namespace
from pathlib import Path

from panelgen import api
from panelgen.errors import BadValueError
from panelgen.model import Finding, Severity
from panelgen.routing import EndPoint, Route, RouteRequest
from panelgen.spec import HouseSpec
from panelgen.units import format_length, parse_length

__all__ = ["add_route", "route"]

_POINT = "X,Y,DEPTH"
_WORDS = ("cavity", "framing")


def add_route(verbs: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command and its options."""
    verb = verbs.add_parser("route", help="find the shortest legal way for a run between two points of a wall")
    verb.add_argument("house", type=Path, metavar="HOUSE.yaml")
    verb.add_argument("--wall", metavar="ID", help="the points are along this wall; else they are house coordinates")
    verb.add_argument("--system", required=True, help="such as 'cold water' or power")
    size = verb.add_mutually_exclusive_group(required=True)
    size.add_argument("--size", help="a size of the catalog, such as pex-1/2")
    size.add_argument("--diameter", metavar="LENGTH", help="an outside diameter instead")
    verb.add_argument("--insulation", default="0", metavar="LENGTH", help="thickness of insulation around the run")
    for name, field in (("--from", "start"), ("--to", "end")):
        words = "along the wall, above its bottom, and cavity, framing or a depth; as in the path of a run"
        verb.add_argument(name, dest=field, required=True, metavar=_POINT, help=words)
    verb.add_argument("--id", default="", metavar="NAME", help="the run's id; a run of that id is led anew")
    verb.add_argument("--bend-cost", default="0", metavar="LENGTH", help="how much more length a bend may save")
    verb.add_argument("--out", type=Path, metavar="HOUSE2.yaml", help="write the spec with the run in it")
    verb.set_defaults(run=route)


def route(arguments: Namespace) -> int:
    """Find a route, try it in the whole house, print both, and write the spec if it brings no stop finding."""
    spec = api.load(arguments.house)
    house = api.design(spec)
    found = api.route(house, _request(arguments, spec))
    if not found.found:
        print("no route:")
        for reason in found.reasons:
            print(f"  {reason}")
        return 1
    _show(found, spec.unit)
    new = api.new_findings(spec, api.check(house), found)
    _show_findings(new)
    if any(finding.severity is Severity.STOP for finding in new):
        return 1
    if arguments.out is not None:
        api.write_run(arguments.house, arguments.out, found)
        print(arguments.out)
    return 0


def _request(arguments: Namespace, spec: HouseSpec) -> RouteRequest:
    def length(text: str) -> float:
        return parse_length(text, spec.unit)

    return RouteRequest(
        system=arguments.system,
        start=_point(arguments.start, spec.unit),
        end=_point(arguments.end, spec.unit),
        size=arguments.size,
        diameter=None if arguments.diameter is None else length(arguments.diameter),
        wall=arguments.wall,
        insulation=length(arguments.insulation),
        run=arguments.id or _free_id(spec),
        bend_cost=length(arguments.bend_cost),
    )


def _free_id(spec: HouseSpec) -> str:
    """The first of R1, R2 and so on that no run has."""
    taken = {run.id for run in spec.runs}
    number = 1
    while f"R{number}" in taken:
        number += 1
    return f"R{number}"


def _point(text: str, unit: str) -> EndPoint:
    parts = [part.strip() for part in text.split(",")]
    if len(parts) != 3:
        raise BadValueError(f"{text!r} is not a point", f"write {_POINT}, such as 24 in,16 in,cavity")
    along, up, depth = parts
    return parse_length(along, unit), parse_length(up, unit), depth if depth in _WORDS else parse_length(depth, unit)


def _show(found: Route, unit: str) -> None:
    size = found.request.size or format_length(found.request.diameter or 0.0, unit)
    length = format_length(found.length, unit)
    bends = f"{found.bends} bend{'' if found.bends == 1 else 's'}"
    print(f"{found.request.run}: {found.request.system} {size} in wall {found.wall}, {length}, {bends}")
    for x, y, depth in found.path:
        deep = depth if isinstance(depth, str) else format_length(depth, unit)
        print(f"  {format_length(x, unit)} along, {format_length(y, unit)} up, {deep}")
    for bore in found.bores:
        limit = f" of {format_length(bore.limit, unit)} allowed" if math.isfinite(bore.limit) else ""
        tie = ", with a steel tie" if bore.is_tied else ""
        print(f"  bore {format_length(bore.diameter, unit)}{limit} through {bore.name}{tie} ({bore.source})")


def _show_findings(new: tuple[Finding, ...]) -> None:
    if not new:
        print("brings no finding")
    for finding in new:
        print(f"brings {finding.severity} {finding.code} {finding.panel}: {finding.words}")
