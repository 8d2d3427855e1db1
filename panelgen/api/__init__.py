"""The few verbs a user needs. Each is a plain function from frozen input to frozen output, or to files.

    spec = load("house.yaml")
    house = design(spec)
    findings = check(house)
    build(house, "out")

`build` and `read_ifc` import their CAD and IFC libraries when they are called, not before.
"""

from panelgen.api.building import Progress, build
from panelgen.api.reporting import write_bcf, write_html
from panelgen.api.routing import new_findings, route, write_run
from panelgen.api.verbs import about, check, design, insulation, joints, load, pick, read_ifc, schedule, thermal
from panelgen.api.ways_out import Applied, apply_proposals, propose
from panelgen.routing import Route, RouteRequest

__all__ = [
    "Applied",
    "Progress",
    "Route",
    "RouteRequest",
    "about",
    "apply_proposals",
    "build",
    "check",
    "design",
    "insulation",
    "joints",
    "load",
    "new_findings",
    "pick",
    "propose",
    "read_ifc",
    "route",
    "schedule",
    "thermal",
    "write_bcf",
    "write_html",
    "write_run",
]
