"""The catalog as a whole: look-ups, a shop's own products, the facts behind every row."""

from __future__ import annotations

import pickle
import re
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import FrozenInstanceError
from pathlib import Path

import pytest

from panelgen.catalog import Catalog
from panelgen.errors import CatalogError, PanelgenError
from panelgen.units import MM_PER_FOOT, inches, parse_pressure

CATALOG = Catalog.default()
DATA = Path(__file__).parents[2] / "panelgen" / "catalog" / "data"


def test_default_is_loaded_once() -> None:
    assert Catalog.default() is CATALOG


def test_rule_sets() -> None:
    assert CATALOG.rule_sets == ("irc-2021", "irc-2012", "wac-246-359")
    assert [CATALOG.rules(name).name for name in CATALOG.rule_sets] == list(CATALOG.rule_sets)


@pytest.mark.parametrize(
    ("look_up", "wrong", "near"),
    [
        (CATALOG.stock, "2x5", "2x4"),
        (CATALOG.species, "spf-s", "SPF-S"),
        (CATALOG.sheet, "osb-7-16", "osb-7/16"),
        (CATALOG.fastener, "16d comon", "16d common"),
        (CATALOG.insulation, "cellulose", "dense-pack-cellulose"),
        (CATALOG.box, "device-3x2x2-1/3", "device-3x2x2-1/4"),
        (CATALOG.sleeve, "sleeve-3", "sleeve-8"),
        (CATALOG.rules, "irc-2020", "irc-2021"),
        (CATALOG.rules, "zzz", "irc-2012"),
    ],
)
def test_unknown_names_get_the_nearest(look_up: Callable[[str], object], wrong: str, near: str) -> None:
    with pytest.raises(CatalogError, match=f"{re.escape(repr(wrong))}.*{re.escape(near)}") as caught:
        look_up(wrong)
    assert isinstance(caught.value, PanelgenError)
    assert isinstance(caught.value, LookupError)


def test_every_row_names_a_source_and_a_grade() -> None:
    facts = CATALOG.facts()
    titles = {source.title for source in CATALOG.sources}
    assert len(facts) > 350
    assert [fact for fact in facts if fact.source not in titles or fact.grade not in {"A", "B", "C"}] == []


def test_rows_from_memory_are_reported_as_unverified() -> None:
    facts = CATALOG.facts()
    assert {fact.grade for fact in facts} == {"A", "B", "C"}
    assert [fact for fact in facts if fact.unverified != (fact.grade == "C")] == []
    assert [fact for fact in facts if fact.unverified != fact.cited.endswith(" (unverified)")] == []
    tie, cells = CATALOG.rules("irc-2021").plate_tie, CATALOG.rules("irc-2012").headers
    assert tie.cited == "IRC R602.6.1, drilling and notching of top plate, 2018"
    assert cells[0].cited.endswith("bearing walls, 2000-2012")


def test_common_practice_is_never_more_than_a_guess() -> None:
    practice = [fact for fact in CATALOG.facts() if fact.source == "common practice, no source"]
    assert len(practice) > 10
    assert all(fact.unverified for fact in practice)


def test_every_source_is_used() -> None:
    used = {fact.source for fact in CATALOG.facts()}
    assert [source.key for source in CATALOG.sources if source.title not in used] == []
    assert all(source.where for source in CATALOG.sources)


def test_own_products_come_first() -> None:
    own = CATALOG.with_products(
        stock={"2x6": (45.0, 145.0), "3x8": (63.5, 184.0)},
        sheets={"osb-7/16": (11.0, 640.0, ((2500.0, 1250.0),)), "board-18": (18.0, 600.0, ((1250.0, 3000.0),))},
    )
    assert (own.stock("2x6").width, own.stock("3x8").thickness) == (145.0, 63.5)
    assert own.sheet("osb-7/16").sizes == ((1250.0, 2500.0),)
    assert own.sheet("board-18").density == 600.0
    assert own.stock("2x4") is CATALOG.stock("2x4")
    assert own.stock("2x6").cited == "house spec: the shop's own products"
    # the shipped catalog is as it was
    assert CATALOG.stock("2x6").width == pytest.approx(inches(5.5))
    with pytest.raises(CatalogError):
        CATALOG.sheet("board-18")


def test_headers_are_fitted_with_the_shops_sizes() -> None:
    """A shop whose 2x8 is 6 in. deep can use it where the dressed 7-1/4 in. does not fit."""
    own = CATALOG.with_products(stock={"2x8": (inches(1.5), inches(6))}, sheets={})
    asked = (inches(65), "roof", parse_pressure("30 psf"), 24 * MM_PER_FOOT, inches(6.5))
    assert CATALOG.rules("irc-2021").header(*asked).cell is None
    found = own.rules("irc-2021").header(*asked).cell
    assert found is not None
    assert found.stock == "2x8"


def test_catalog_is_frozen_and_can_be_sent_to_a_worker() -> None:
    with pytest.raises(FrozenInstanceError):
        CATALOG.sources = ()
    copy = pickle.loads(pickle.dumps(CATALOG))
    assert copy.facts() == CATALOG.facts()


def test_loads_in_a_blink() -> None:
    """Best of five, so that a busy machine does not decide."""

    def seconds() -> float:
        start = time.process_time()
        Catalog.read(DATA)
        return time.process_time() - start

    assert min(seconds() for _ in range(5)) < 0.040


def test_import_brings_no_library_with_it() -> None:
    """The catalog needs the standard library only."""
    heavy = ("numpy", "pydantic", "yaml", "shapely", "cadquery", "trimesh")
    code = f"import sys, panelgen.catalog; sys.exit(' '.join(n for n in {heavy} if n in sys.modules) or 0)"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=DATA.parents[2], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
