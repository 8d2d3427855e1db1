"""One sleeve, one tape and one gasket are taken out of the example house: each break is found and named.

Run with ``python -m tests.acceptance.house_three_breaks [--rounds N] [--seed N]``. Each round takes others out.
Prints the airtight line of the whole house, what was taken out and what was found, and how many of all were found
last; exits 1 if one was missed, or if anything else is found.
"""

from __future__ import annotations

import argparse
import sys

import numpy as np

from panelgen.api import check, design, load
from panelgen.catalog import Catalog
from panelgen.model import Barrier, Finding, House, Severity
from panelgen.plans import joint_schedule
from panelgen.spec import HouseSpec
from panelgen.spec.seals import SealSpec
from tests.project.tree import ROOT

EXAMPLE = ROOT / "examples" / "heron-house.yaml"


def without(spec: HouseSpec, house: House, rng: np.random.Generator) -> tuple[HouseSpec, dict[str, str]]:
    """The spec with a sleeve, a tape and a gasket left out, and what stands for each in the findings."""
    catalog = Catalog.default()
    lengths = {row.joint.panels: row.air_length for row in joint_schedule(house, catalog).rows}
    chosen = {}
    for kind in ("tape", "gasket"):
        joints = [
            one.panels
            for one in house.joints
            if one.air and catalog.seal(one.air).kind == kind and lengths.get(one.panels, 0.0) > 100.0
        ]
        chosen[kind] = joints[int(rng.integers(len(joints)))]
    tight = {panel.wall for panel in house.panels if any(layer.barrier is Barrier.AIR for layer in panel.layers)}
    sleeves = [one for one in spec.sleeves if one.wall in tight]
    sleeve = sleeves[int(rng.integers(len(sleeves)))]
    seals = tuple(SealSpec(between=panels, air="none") for panels in chosen.values())
    changed = spec.model_copy(
        update={"seals": (*spec.seals, *seals), "sleeves": tuple(one for one in spec.sleeves if one is not sleeve)}
    )
    return changed, {"sleeve": sleeve.run, **{kind: " | ".join(panels) for kind, panels in chosen.items()}}


def breaks(findings: tuple[Finding, ...]) -> list[Finding]:
    """Where the airtight line is open."""
    stops = [one for one in findings if one.severity is Severity.STOP]
    return [one for one in stops if one.code == "air.break" or "air barrier" in one.words]


def main() -> int:
    """Take out, check and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args()
    spec = load(EXAMPLE)
    house = design(spec)
    schedule = joint_schedule(house, Catalog.default())
    print(f"{len(house.panels)} panels, airtight line:")
    for product, length in schedule.air:
        print(f"  {product}: {length / 1000:.1f} m")
    print(f"  {schedule.sleeves} sleeves: {schedule.sleeved / 1000:.2f} m around them")
    wrong = [one for one in check(house) if one.severity is Severity.STOP]
    for one in wrong:
        print(f"stops the whole house: {one.code} {one.panel}: {one.words}")
    rng = np.random.default_rng(options.seed)
    found = 0
    for _ in range(options.rounds):
        changed, taken = without(spec, house, rng)
        seen = breaks(check(design(changed)))
        print("taken out: " + ", ".join(f"{kind} {name}" for kind, name in taken.items()))
        for one in seen:
            print(f"  {one.panel}: {one.words}, {one.value or 0.0:.0f} mm")
        named = {kind for kind, name in taken.items() for one in seen if name in (*one.parts, *one.words.split())}
        found += len(named)
        wrong += seen[len(taken) :]
    print(f"{found} of {3 * options.rounds} breaks found, {len(wrong)} findings else")
    return 0 if found == 3 * options.rounds and not wrong else 1


if __name__ == "__main__":
    sys.exit(main())
