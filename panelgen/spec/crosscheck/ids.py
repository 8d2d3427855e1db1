"""Ids that are given twice."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from panelgen.spec.crosscheck.survey import Survey
from panelgen.spec.faults import Fault
from panelgen.spec.lines import Path, dotted

__all__ = ["repeated_ids"]


def repeated_ids(survey: Survey) -> Iterator[Fault]:
    """Walls across all levels, levels, openings, runs, boxes, roofs and all others: each id once among its kind."""
    house = survey.house
    yield from _repeated("wall", [((*wall.path, "wall"), wall.id) for wall in survey.drawn])
    yield from _repeated("level", _numbered("levels", [level.id for level in house.levels]))
    yield from _repeated("opening", _numbered("openings", [opening.id for opening in house.openings]))
    yield from _repeated("run", _numbered("runs", [run.id for run in house.runs]))
    yield from _repeated("sleeve", _numbered("sleeves", [sleeve.id for sleeve in house.sleeves]))
    yield from _repeated("box", _numbered("boxes", [box.id for box in house.boxes]))
    yield from _repeated("wall, floor or ceiling", _walls_and_decks(survey))
    yield from _repeated("opening of a floor or ceiling", _deck_openings(survey))
    yield from _repeated("roof", _numbered("roofs", [roof.id for roof in house.roofs]))
    yield from _repeated("truss row", _numbered("trusses", [truss.id for truss in house.trusses]))
    for what, section in (("roof opening", "openings"), ("purlin", "purlins")):
        places = [
            (("roofs", n, section, k, "id"), one.id)
            for n, roof in enumerate(house.roofs)
            for k, one in enumerate(getattr(roof, section))
        ]
        yield from _repeated(what, places)
    yield from _repeated("post", _numbered("posts", [post.id for post in house.posts]))
    yield from _repeated("backing", _numbered("backing", [backing.id for backing in house.backing]))
    yield from _repeated("trade", _numbered("trades", [trade.id for trade in house.trades]))


def _walls_and_decks(survey: Survey) -> list[tuple[Path, str]]:
    """The ids of floors and ceilings, after those of walls: each wall's only once."""
    walls = {wall.id: (*wall.path, "wall") for wall in reversed(survey.drawn)}
    house = survey.house
    decks = _numbered("floors", [deck.id for deck in house.floors])
    decks += _numbered("ceilings", [deck.id for deck in house.ceilings])
    return [*((path, name) for name, path in walls.items()), *decks]


def _deck_openings(survey: Survey) -> list[tuple[Path, str]]:
    return [
        ((section, n, "openings", k, "id"), opening.id)
        for section, decks in (("floors", survey.house.floors), ("ceilings", survey.house.ceilings))
        for n, deck in enumerate(decks)
        for k, opening in enumerate(deck.openings)
    ]


def _numbered(section: str, ids: Sequence[str]) -> list[tuple[Path, str]]:
    return [((section, n, "id"), name) for n, name in enumerate(ids)]


def _repeated(kind: str, ids: Sequence[tuple[Path, str]]) -> Iterator[Fault]:
    first: dict[str, Path] = {}
    for path, name in ids:
        if first.setdefault(name, path) != path:
            words = f"another {kind} has this id: {dotted(first[name])}"
            yield Fault(path, words, f"give each {kind} an id of its own", repr(name))
