"""Models for review and the findings, in one folder that is whole or not there."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import panelgen
from panelgen.api.reporting import write_bcf, write_html
from panelgen.api.verbs import about, check, pick
from panelgen.catalog import Catalog
from panelgen.files import whole_folder
from panelgen.model import Finding, House, Panel
from panelgen.report.record import report_json
from panelgen.report.text import assumptions_text, findings_text

__all__ = ["Progress", "build"]

Progress = Callable[[str, int, int], None]
"""Called before each model is made: what it is, its number from 1, and how many there are."""


def build(
    house: House,
    out: Path | str,
    panels: Sequence[str] = (),
    catalog: Catalog | None = None,
    progress: Progress | None = None,
) -> tuple[Path, ...]:
    """Write review models, findings and assumptions into the folder `out`; returns the files written.

    ``findings.txt``, ``findings.html``, ``findings.bcf``, ``findings.json``, ``assumptions.txt``; for each panel
    ``panels/LABEL/LABEL.step`` and ``LABEL.stl`` with one more STL a group of parts; and the same for the whole
    house and its supplied trusses as ``house.step`` and so on. With labels in `panels`, only those panels are
    written and reported, and no model of the house.

    `out` appears whole or not at all: an earlier output is replaced, a folder that holds anything else is
    refused. Raises BadValueError for an unknown label, ExportError where `out` cannot be written.
    """
    picked = pick(house, panels)
    findings = about(picked, check(house, catalog))
    out = Path(out)
    with whole_folder(out) as folder:
        written = [
            *_reports(folder, house, picked, findings),
            *_models(folder, house, picked, not panels, progress or _silent),
        ]
    return tuple(out / file.relative_to(folder) for file in written)


def _reports(folder: Path, house: House, panels: Sequence[Panel], findings: Sequence[Finding]) -> Iterator[Path]:
    texts = {
        "findings.txt": findings_text(house, panels, findings),
        "findings.json": report_json(house, panels, findings, panelgen.__version__),
        "assumptions.txt": assumptions_text(house.assumptions),
    }
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8", newline="\n")
        yield folder / name
    page, topics = folder / "findings.html", folder / "findings.bcf"
    write_html(house, findings, page, [panel.label for panel in panels])
    write_bcf(house, findings, topics)
    yield from (page, topics)


def _models(
    folder: Path, house: House, panels: Sequence[Panel], with_house: bool, progress: Progress
) -> Iterator[Path]:
    from panelgen.export.step import write_step
    from panelgen.export.stl import write_group_stls
    from panelgen.meshes import MeshStore, panel_meshes, truss_meshes
    from panelgen.solids import Prototypes, house_solids, panel_solids, tessellated

    shapes, meshes = Prototypes(), MeshStore(tessellated)
    total = len(panels) + with_house
    for number, panel in enumerate(panels, 1):
        progress(panel.label, number, total)
        place = folder / "panels" / panel.label
        place.mkdir(parents=True)
        step = place / f"{panel.label}.step"
        write_step(step, panel.label, panel_solids(panel, shapes))
        yield step
        yield from write_group_stls(place, panel.label, panel_meshes(panel, meshes))
    if with_house:
        progress("house", total, total)
        step = folder / "house.step"
        write_step(step, house.name, house_solids(house, shapes))
        yield step
        parts = [part for panel in panels for part in panel_meshes(panel, meshes, panel.frame)]
        parts += truss_meshes(house.trusses, meshes)
        yield from write_group_stls(folder, "house", parts)


def _silent(what: str, number: int, total: int) -> None:
    """Tell nobody."""
