"""The HTML report is whole in itself, can be read by anybody, and holds no markup of a user."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from importlib.resources import files

import pytest

from panelgen.model import Assumption, Finding, House, Waiver
from panelgen.report.html import report_html
from panelgen.report.html.causes import MOST_PANELS
from tests.factories import small_house
from tests.report.html_reader import Page
from tests.review.findings import NOTE, WARN, found, house

HOSTILE = '<img src=x onerror=alert(1)> & "quoted"'
STOPS = (found("bore.edge", "1W01", "1W01.s01", "r0", at=(600.0, 300.0)), found("panel.mass", "1W02", unit="kg"))
OTHERS = (
    found("member.short", "1W03", "1W03.s01", severity=WARN, at=(600.0, 50.0)),
    found("spec.note", "", severity=NOTE),
    found("bore.size", "1W02", "r1", at=(600.0, 300.0), waived_by="A. Engineer: tested"),
)


def page(*findings: Finding, of: House | None = None) -> Page:
    of = of or house()
    return Page(report_html(of, of.panels, findings, "0.0.0"))


def test_is_well_formed_with_one_title_one_main_and_a_language() -> None:
    made = page(*STOPS, *OTHERS)
    assert [made.tags.count(tag) for tag in ("html", "h1", "main", "header")] == [1, 1, 1, 1]
    assert made.values("lang") == ["en"]
    assert made.text.count("Made by hand: findings") == 2


def test_headings_go_down_one_step_at_a_time() -> None:
    levels = [int(tag[1]) for tag in page(*STOPS, *OTHERS).tags if re.fullmatch(r"h[1-6]", tag)]
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in itertools.pairwise(levels))


def test_ids_are_unique_and_every_link_leads_to_one() -> None:
    made = page(*STOPS, *OTHERS)
    ids = made.values("id")
    assert len(ids) == len(set(ids))
    links = [value.removeprefix("#") for value in made.values("href")]
    names = [name for value in made.values("aria-labelledby") for name in value.split()]
    assert len(links) == 5
    assert {*links, *names} <= set(ids)


def test_nothing_outside_the_page_is_needed() -> None:
    text = report_html(house(), house().panels, [*STOPS, *OTHERS], "0.0.0")
    assert Page(text).outside() == []
    assert {"script", "link", "iframe", "object", "img"} & set(Page(text).tags) == set()
    assert re.findall(r"url\(|@import|https?:", text) == []


def test_words_of_users_stay_words() -> None:
    finding = replace(found(HOSTILE, "1W01", HOSTILE, at=(1.0, 2.0)), words=HOSTILE, source=HOSTILE, unit=HOSTILE)
    run = replace(house().panels[0].runs[0], run=HOSTILE)
    panel = replace(house().panels[0], runs=(run,))
    of = replace(
        house(),
        name=HOSTILE,
        rules=HOSTILE,
        panels=(panel,),
        assumptions=(Assumption(HOSTILE, HOSTILE, HOSTILE),),
        waivers=(Waiver(HOSTILE, HOSTILE, HOSTILE, HOSTILE),),
    )
    made = page(finding, replace(finding, waived_by=HOSTILE), of=of)
    assert "img" not in made.tags
    assert "onerror" not in {name for _, name, _ in made.attributes}
    assert made.text.count(HOSTILE) > 15


def test_label_of_a_panel_is_escaped_too() -> None:
    panel = replace(house().panels[0], label=HOSTILE)
    made = page(found("panel.mass", HOSTILE), of=replace(house(), panels=(panel,)))
    assert "img" not in made.tags
    assert "svg" in made.tags


def test_counts_and_totals_are_those_of_the_findings() -> None:
    text = page(*STOPS, *OTHERS).text
    assert "2 ■ stop 1 ▲ warn 1 ● note 1 waived" in text
    assert "panels 3" in text


def test_groups_come_worst_first_and_waived_last() -> None:
    text = page(*reversed((*STOPS, *OTHERS))).text
    heads = ["Stop: must be solved", "Run r0", "Panel 1W02", "Warn: wants", "Stud 1W03-05", "Note: for", "The house"]
    body = text[text.index("Stop: must") :]
    places = [body.index(head) for head in [*heads, "Waived: accepted", "Run r1"]]
    assert places == sorted(places)


def test_every_group_with_a_panel_has_its_pictures_named_in_words() -> None:
    made = page(*STOPS, *OTHERS)
    assert made.tags.count("figure") == 4
    pictures = made.values("role").count("img")
    assert pictures == made.tags.count("title") - 1 == made.tags.count("desc") == 7
    assert "Panel 1W01, close-up, seen from the weather side" in made.text


def test_of_a_cause_in_many_panels_some_are_drawn_and_the_others_named() -> None:
    of = small_house(6)
    findings = [found("bore.edge", panel.label, "r0", at=(600.0, 300.0)) for panel in of.panels]
    made = page(*findings, of=of)
    assert made.tags.count("figure") == MOST_PANELS
    assert "Also in 1W05, 1W06, not drawn." in made.text
    assert "Likewise no. 2–6." in made.text


def test_a_row_has_place_value_limit_and_source_in_both_systems() -> None:
    text = page(STOPS[0]).text
    assert "1 1W01 stud 1W01-05 run r0 600 mm along, 300 mm up 1'-11 5/8\", 0'-11 13/16\" bore.edge" in text
    assert "9.5 mm 3/8 in 15.9 mm 5/8 in the source" in text


def test_a_long_table_scrolls_and_can_be_reached_by_keyboard() -> None:
    findings = [found("bore.edge", "1W01", "r0", at=(10.0 * k, 300.0)) for k in range(40)]
    made = page(*findings)
    assert made.values("tabindex") == ["0"]
    assert "Findings of run r0" in made.values("aria-label")
    assert "Likewise 39 more." in made.text
    assert page(*findings[:12]).values("tabindex") == []


def test_tables_have_heads_for_columns_and_rows() -> None:
    made = page(*STOPS, *OTHERS)
    scopes = [value for tag, name, value in made.attributes if (tag, name) == ("th", "scope")]
    assert set(scopes) == {"col", "row"}
    assert len(scopes) == made.tags.count("th")
    assert made.tags.count("caption") == made.tags.count("table")


def test_waivers_show_reason_who_decided_and_whether_they_are_needed() -> None:
    waivers = (Waiver("bore.size", "r1", "tested", "A. Engineer"), Waiver("run.run", "r9", "never mind", "B. Builder"))
    text = page(*OTHERS, of=replace(house(), waivers=waivers)).text
    assert "Waived by A. Engineer: tested" in text
    assert "bore.size r1 tested A. Engineer 1" in text
    assert "run.run r9 never mind B. Builder none: it can be taken out" in text


def test_assumptions_and_cautions_are_told() -> None:
    of = replace(house(), assumptions=(Assumption("shop.line_height", "3048 mm", "default of the spec"),))
    text = page(of=of).text
    assert "shop.line_height 3048 mm default of the spec" in text
    assert "have a licensed engineer review the structure" in text
    assert "Local codes and amendments go before anything said here" in text


def test_clean_house_says_so() -> None:
    made = page()
    assert "Nothing was found." in made.text
    assert "figure" not in made.tags
    assert "Stop: must" not in made.text


def test_some_panels_are_named() -> None:
    text = Page(report_html(house(), house().panels[:1], [], "0.0.0")).text
    assert "panels 1W01 of 3" in text


def test_same_findings_give_the_same_page() -> None:
    texts = {report_html(house(), house().panels, order, "0.0.0") for order in (STOPS, STOPS[::-1])}
    assert len(texts) == 1


STYLE = files("panelgen.report.html").joinpath("style.css").read_text(encoding="utf-8")


def schemes() -> list[dict[str, str]]:
    """The colours of the light and of the dark scheme."""
    blocks = re.findall(r":root \{([^}]*)\}", STYLE)
    light, dark = (dict(re.findall(r"--(\w+): (#\w{6});", block)) for block in blocks)
    return [light, dark]


def luminance(colour: str) -> float:
    """Relative luminance by WCAG 2.2."""
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("scheme", schemes(), ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["paper", "back"])
@pytest.mark.parametrize("words", ["ink", "soft", "link", "stop", "warn", "note"])
def test_words_stand_out_from_what_they_are_on(scheme: dict[str, str], ground: str, words: str) -> None:
    # WCAG 2.2, success criterion 1.4.3 (AA): at least 4.5 to 1.
    high, low = sorted((luminance(scheme[words]), luminance(scheme[ground])), reverse=True)
    assert (high + 0.05) / (low + 0.05) >= 4.5
