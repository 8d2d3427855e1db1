"""Routes: found, tried in the whole house, and written into a spec."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from panelgen.api.verbs import check, design
from panelgen.catalog import Catalog
from panelgen.errors import BadValueError
from panelgen.files import whole_file
from panelgen.model import Finding, House
from panelgen.routing import Route, RouteRequest, find_route
from panelgen.spec import HouseSpec
from panelgen.spec.edit import with_item, with_value
from panelgen.spec.tree import read_tree

__all__ = ["new_findings", "route", "write_run"]


def route(house: House, request: RouteRequest, catalog: Catalog | None = None) -> Route:
    """The shortest legal way for a run in one wall, and of several the one with the fewest bends.

    Where there is none, the route says why. Raises BadValueError for a wall or system that is not known and
    for ends that are not two points of the wall; CatalogError for an unknown size.
    """
    return find_route(house, catalog or Catalog.default(), request)


def new_findings(
    spec: HouseSpec, findings: Sequence[Finding], found: Route, catalog: Catalog | None = None
) -> tuple[Finding, ...]:
    """What the house of a spec has findings of, once the run of a route is in it, and had none of before.

    `findings` are those of the house without it. Raises BadValueError where there is no route.
    """
    after = check(design(_with_run(spec, found), catalog), catalog)
    known = {_key(finding) for finding in findings}
    return tuple(finding for finding in after if _key(finding) not in known)


_LEFT_OUT = frozenset({"strap.loose", "strap.short"})


def _key(finding: Finding) -> tuple[str, str, tuple[str, ...]]:
    """What a finding is recognised by.

    The pieces of a strap count as one: a route may cut one more of it. A piece that was left out, for want of
    length or of framing behind it, may be left out for the other reason.
    """
    code = "strap left out" if finding.code in _LEFT_OUT else finding.code
    return code, finding.panel, tuple(part.partition("@")[0] for part in finding.parts)


def _with_run(spec: HouseSpec, found: Route) -> HouseSpec:
    """The spec with the run of a route, in place of the run of that id where there is one."""
    run = found.spec()
    if all(one.id != run.id for one in spec.runs):
        return spec.model_copy(update={"runs": (*spec.runs, run)})
    changed = {field: getattr(run, field) for field in found.entry(spec.unit) if field != "id"}
    runs = tuple(one.model_copy(update=changed) if one.id == run.id else one for one in spec.runs)
    return spec.model_copy(update={"runs": runs})


def write_run(source: Path | str, out: Path | str, found: Route) -> None:
    """Write the spec at `source` to `out` with the run of a route, added or in place of the run of that id.

    All else stays as it is written. Raises BadValueError where there is no route or `out` is the spec itself,
    SpecError where the spec cannot be read, ExportError where `out` cannot be written.
    """
    source, out = Path(source), Path(out)
    if source.resolve() == out.resolve():
        raise BadValueError(f"{source} is the house spec itself", "write the changed spec to another file")
    text = source.read_bytes().decode()
    data = read_tree(text, str(source)).data
    entry = found.entry(data.get("unit", "mm"))
    runs = data.get("runs") or []
    place = next((n for n, run in enumerate(runs) if run.get("id") == entry["id"]), None)
    if place is None:
        edited = with_item(text, ("runs",), entry)
    else:
        edited = with_value(text, ("runs", place), runs[place] | entry)
    with whole_file(out) as scratch:
        scratch.write_bytes(edited.encode())
