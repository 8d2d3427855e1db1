"""The BCF file: a zip of one folder a topic, the same bytes for the same findings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from uuid import UUID, uuid5
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from panelgen.drawing.page import beside
from panelgen.drawing.png import write_png
from panelgen.export.bcf.elements import branch, document, leaf
from panelgen.export.bcf.markup import topic_markup
from panelgen.export.bcf.viewpoint import visualization
from panelgen.files import whole_file
from panelgen.model import Finding, House
from panelgen.model.identity import identity
from panelgen.review.groups import FindingGroup, group_findings
from panelgen.review.parts import name_parts
from panelgen.review.scenes import PanelScene, draw_closeup, draw_overview, group_scenes

__all__ = ["MOST_VIEWS", "write_bcf"]

MOST_VIEWS = 4
"""Panels of a topic with a viewpoint of their own; the description tells of all."""

_VERSION = "2.1"
_TIME = (1980, 1, 1, 0, 0, 0)
_GAP = 8.0
_FOLDER_MODE, _FILE_MODE = 0o40755 << 16 | 0x10, 0o100644 << 16
_UNIX = 3

_Entry = tuple[str, bytes]


def write_bcf(path: Path | str, house: House, findings: Iterable[Finding]) -> None:
    """Write one topic for each group of findings, in the groups' order, with a viewpoint for each panel.

    A topic keeps its identity as long as house, code family and cause keep theirs, so that a viewer knows it
    again. Raises ExportError where the file cannot be written; an earlier file then stays as it was.
    """
    with whole_file(path) as scratch, ZipFile(scratch, "w") as archive:
        for name, content in _entries(house, group_findings(house, findings)):
            _store(archive, name, content)


def _entries(house: House, groups: Iterable[FindingGroup]) -> Iterator[_Entry]:
    names = name_parts(house)
    yield "bcf.version", document(branch("Version", (leaf("DetailedVersion", _VERSION),), {"VersionId": _VERSION}))
    project = branch("Project", (leaf("Name", house.name),), {"ProjectId": str(identity(house.name))})
    yield "project.bcfp", document(branch("ProjectExtension", (project, leaf("ExtensionSchema", ""))))
    for index, (topic, group) in enumerate(_identified(house, groups)):
        scenes = group_scenes(house, group)[:MOST_VIEWS]
        views = [(uuid5(topic, scene.panel.label), *_file_names(place)) for place, scene in enumerate(scenes)]
        yield f"{topic}/", b""
        yield f"{topic}/markup.bcf", document(topic_markup(group, topic, index, views))
        for scene, (view, camera, picture) in zip(scenes, views, strict=True):
            yield f"{topic}/{camera}", document(visualization(view, house.name, scene, names))
            yield f"{topic}/{picture}", _snapshot(scene)


def _identified(house: House, groups: Iterable[FindingGroup]) -> Iterator[tuple[UUID, FindingGroup]]:
    """Groups with the identities of their topics, which do not change when a group is waived.

    Where some findings of a cause stand and others are waived, the groups after the first are told apart by number.
    """
    tally: Counter[tuple[str, ...]] = Counter()
    for group in groups:
        path = ("findings", group.family, str(group.cause.kind), group.cause.id)
        again = (str(tally[path]),) if tally[path] else ()
        tally[path] += 1
        yield identity(house.name, *path, *again), group


def _file_names(place: int) -> tuple[str, str]:
    """The standard asks for these names for the first viewpoint."""
    return (f"viewpoint-{place + 1}.bcfv", f"snapshot-{place + 1}.png") if place else ("viewpoint.bcfv", "snapshot.png")


def _snapshot(scene: PanelScene) -> bytes:
    whole, near = draw_overview(scene), draw_closeup(scene)
    return write_png(whole if near is None else beside(whole, near, _GAP))


def _store(archive: ZipFile, name: str, content: bytes) -> None:
    entry = ZipInfo(name, _TIME)
    entry.create_system = _UNIX
    entry.external_attr = _FOLDER_MODE if name.endswith("/") else _FILE_MODE
    entry.compress_type = ZIP_STORED if name.endswith((".png", "/")) else ZIP_DEFLATED
    archive.writestr(entry, content)
