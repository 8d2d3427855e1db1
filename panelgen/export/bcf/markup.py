"""The words of a topic: one group of findings, its severity, its panels, and every finding in its description."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from uuid import UUID
from xml.etree.ElementTree import Element

from panelgen.export.bcf.elements import branch, leaf
from panelgen.model import Finding
from panelgen.review.groups import FindingGroup
from panelgen.review.wording import both, measured_words, place_pair, title_words

__all__ = ["ViewFiles", "topic_markup"]

_AUTHOR = "panelgen"
_TIME = "1970-01-01T00:00:00+00:00"  # the same for every file: a time would make equal findings differ

ViewFiles = tuple[UUID, str, str]
"""Identity of a viewpoint, and the names of its camera file and its picture."""


def topic_markup(group: FindingGroup, identity: UUID, index: int, views: Sequence[ViewFiles]) -> Element:
    """The ``Markup`` element. `index` is the topic's place in the list, from 0; the first of `views` is the main one.

    A waived group is a closed topic; labels are the codes and the panels.
    """
    status = "Closed" if group.waived_by else "Open"
    attributes = {"Guid": str(identity), "TopicType": str(group.severity), "TopicStatus": status}
    topic = (
        leaf("Title", _title(group)),
        leaf("Priority", str(group.severity)),
        leaf("Index", str(index)),
        *(leaf("Labels", label) for label in (*group.codes, *group.panels)),
        leaf("CreationDate", _TIME),
        leaf("CreationAuthor", _AUTHOR),
        leaf("Description", "\n\n".join(_description(group))),
    )
    return branch("Markup", (branch("Topic", topic, attributes), *_viewpoints(views)))


def _title(group: FindingGroup) -> str:
    """Where the first finding is, what is wrong there, and how many there are."""
    more = f" (and {group.count - 1} more)" if group.count > 1 else ""
    return f"{group.place.panel or 'House'}: {title_words(group.place.words)}{more}"


def _viewpoints(views: Sequence[ViewFiles]) -> Iterator[Element]:
    for index, (identity, camera, picture) in enumerate(views):
        names = (leaf("Viewpoint", camera), leaf("Snapshot", picture), leaf("Index", str(index)))
        yield branch("Viewpoints", names, {"Guid": str(identity)})


def _description(group: FindingGroup) -> Iterator[str]:
    if group.waived_by:
        yield f"Waived by {group.waived_by}"
    for number, finding in enumerate(group.findings, start=1):
        yield "\n".join(_lines(number, finding))


def _lines(number: int, finding: Finding) -> Iterator[str]:
    place = ", ".join(filter(None, (finding.panel, both(place_pair(finding)))))
    yield f"{number}. {finding.code}: {finding.words}"
    said = {"Place": place, "Measured": measured_words(finding), "Source": finding.source}
    yield from (f"{name}: {words}" for name, words in said.items() if words)
