"""One group of findings on the page: what it is, where it is seen, and every finding with its numbers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from panelgen.drawing.looks import DRAWN_AS
from panelgen.drawing.marks import number_words
from panelgen.drawing.svg import swatch, write_svg
from panelgen.model import Finding, House, Severity
from panelgen.report.html.markup import stacked, table, text
from panelgen.review.groups import FindingGroup
from panelgen.review.parts import PartName
from panelgen.review.scenes import PanelScene, draw_closeup, draw_overview, group_scenes
from panelgen.review.wording import place_pair, quantity_pair, title_words

__all__ = ["MOST_PANELS", "SIGNS", "badge", "cause_article", "cause_row", "picture_key"]

MOST_PANELS = 4
"""Panels of a group that are drawn; the table has the others."""

SIGNS = {Severity.STOP: "■", Severity.WARN: "▲", Severity.NOTE: "●"}
"""A shape for each severity, so that colour is not the only cue."""

_LONG = 12
_MOST_NUMBERS = 8
_HEADS = ("No.", "Panel", "Parts", "Where", "Code", "Measured", "Limit", "Source")


def cause_article(house: House, names: Mapping[str, PartName], group: FindingGroup, number: int) -> str:
    """Heading, pictures and findings of group `number`, which the list of groups refers to.

    `names` are those of `name_parts`.
    """
    first, *others = _pictures(house, group, number) or [""]
    return "".join(
        (
            f'<article id="cause-{number}" aria-labelledby="cause-{number}-h"><div class="lead">',
            f'<h3 id="cause-{number}-h">{number}. {badge(group)} {text(_capital(group.cause.words))}</h3>',
            *_words(group),
            f"{first}</div>",
            *others,
            _table(names, group),
            "</article>",
        )
    )


def cause_row(group: FindingGroup, number: int) -> tuple[str, ...]:
    """A row of the list of groups: number and cause, severity, what is wrong at the first place, panels, count."""
    link = f'<a href="#cause-{number}">{number}. {text(_capital(group.cause.words))}</a>'
    panels = text(", ".join(group.panels)) or "house"
    return link, badge(group), text(_capital(title_words(group.place.words))), panels, str(group.count)


def badge(group: FindingGroup) -> str:
    """Severity in a word and a shape; a waived group says so."""
    words = f"{group.severity}, waived" if group.waived_by else str(group.severity)
    kind = "waived" if group.waived_by else group.severity
    return f'<span class="badge {kind}"><span aria-hidden="true">{SIGNS[group.severity]}</span> {words}</span>'


def picture_key() -> str:
    """What the looks in the pictures stand for."""
    items = "".join(f"<li>{swatch(look)}{text(words)}</li>" for look, words in DRAWN_AS.items())
    return f'<ul class="key" aria-label="Key to the pictures">{items}</ul>'


def _words(group: FindingGroup) -> Iterator[str]:
    """What is said of the cause: for each code the words of its first finding, and which others are like it."""
    alike: dict[str, list[int]] = {}
    for number, finding in enumerate(group.findings, start=1):
        alike.setdefault(finding.code, []).append(number)
    lines = [_line(group.findings[numbers[0] - 1].words, numbers) for numbers in alike.values()]
    yield f"<p>{lines[0]}</p>" if len(lines) == 1 else f"<ul>{''.join(f'<li>{line}</li>' for line in lines)}</ul>"
    ways_out = dict.fromkeys(finding.proposal.words for finding in group.findings if finding.proposal)
    if ways_out:
        yield f"<p><strong>Way out</strong> {text('; '.join(ways_out))}</p>"
    if group.waived_by:
        yield f"<p><strong>Waived by</strong> {text(group.waived_by)}</p>"


def _line(words: str, numbers: Sequence[int]) -> str:
    others = numbers[1:]
    named = f"no. {number_words(others)}" if len(others) <= _MOST_NUMBERS else f"{len(others)} more"
    return f"{text(_capital(words))}." + (f" <small>Likewise {named}.</small>" if others else "")


def _table(names: Mapping[str, PartName], group: FindingGroup) -> str:
    """Every finding; a long table scrolls in a frame of its own, which the keyboard reaches too."""
    rows = (_row(number, finding, names) for number, finding in enumerate(group.findings, start=1))
    whole = table("Findings of this cause", _HEADS, rows)
    if group.count <= _LONG:
        return whole
    name = text(f"Findings of {group.cause.words}")
    return f'<div class="long" role="region" tabindex="0" aria-label="{name}">{whole}</div>'


def _pictures(house: House, group: FindingGroup, number: int) -> list[str]:
    scenes = group_scenes(house, group)
    figures = [_figure(scene, f"pic-{number}-{place}") for place, scene in enumerate(scenes[:MOST_PANELS], start=1)]
    left = [scene.panel.label for scene in scenes[MOST_PANELS:]]
    return [*figures, f"<p>Also in {text(', '.join(left))}, not drawn.</p>"] if left else figures


def _figure(scene: PanelScene, id: str) -> str:
    closeup = draw_closeup(scene)
    near = "" if closeup is None else write_svg(closeup, f"{id}-near", is_inline=True)
    whole = write_svg(draw_overview(scene), id, is_inline=True)
    return f"<figure>{whole}{near}</figure>"


def _row(number: int, finding: Finding, names: Mapping[str, PartName]) -> tuple[str, ...]:
    parts = (names[part].words if part in names else part for part in finding.parts)
    return (
        str(number),
        text(finding.panel) or "house",
        "<br>".join(map(text, parts)),
        stacked(place_pair(finding)),
        f"<code>{text(finding.code)}</code>",
        stacked(quantity_pair(finding.value, finding.unit)),
        stacked(quantity_pair(finding.limit, finding.unit)),
        text(finding.source),
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
