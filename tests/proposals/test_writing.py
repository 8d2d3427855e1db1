"""Changes reach the text of a spec, and nothing else in it changes."""

from __future__ import annotations

import difflib

from panelgen.model import Change
from panelgen.proposals import changed, with_changes
from panelgen.spec import loads
from panelgen.units import inches
from tests.proposals.houses import spec_text

PATH = "[[10, 17-1/2, cavity], [60, 17-1/2, cavity]]"
CABLE = f"  - {{id: C1, system: power, size: nm-12/2, wall: south, path: {PATH}}} # kitchen"


def edits(before: str, after: str) -> list[str]:
    """The lines that came in place of others."""
    return [line[2:] for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line.startswith("+ ")]


def test_one_number_changes_in_the_unit_of_the_file() -> None:
    text = spec_text(CABLE)
    change = Change(("runs", 0, "path", 1, 0), 1524.0, inches(61))
    after = with_changes(text, [change], "in")
    assert edits(text, after) == [CABLE.replace("[60,", "[61,")]
    assert loads(after) == changed(loads(text), [change])


def test_points_that_stay_keep_their_wording() -> None:
    text = spec_text(CABLE)
    old = loads(text).runs[0].path
    new = (old[0], (254.0, 500.0625, "cavity"), (1524.0, 500.0625, "cavity"), old[1])
    after = with_changes(text, [Change(("runs", 0, "path"), old, new)], "in")
    (line,) = edits(text, after)
    assert line.count("17-1/2, cavity]") == 2
    assert "[10, 19.6875, cavity], [60, 19.6875, cavity]" in line
    assert line.endswith("# kitchen")


def test_changes_follow_one_another() -> None:
    text = spec_text(CABLE)
    first = Change(("runs", 0, "path", 0, 0), 254.0, 279.4)
    then = Change(("runs", 0, "path", 0, 0), 279.4, 304.8)
    assert edits(text, with_changes(text, [first, then], "in")) == [CABLE.replace("[10,", "[12,")]
