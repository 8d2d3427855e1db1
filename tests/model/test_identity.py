"""Identities follow from names alone, and read as IFC writes them."""

from __future__ import annotations

from uuid import UUID

import ifcopenshell.guid
from hypothesis import given
from hypothesis import strategies as st

from panelgen.model.identity import identity, ifc_text, part_global_id, run_global_id

UUIDS = st.uuids()
NAMES = st.text(max_size=12)


@given(UUIDS)
def test_ifc_text_is_what_an_independent_library_writes(value: UUID) -> None:
    assert ifc_text(value) == ifcopenshell.guid.compress(value.hex)


@given(UUIDS)
def test_ifc_text_can_be_read_back(value: UUID) -> None:
    assert UUID(ifcopenshell.guid.expand(ifc_text(value))) == value


def test_first_character_holds_only_two_bits() -> None:
    assert ifc_text(UUID(int=2**128 - 1)) == "3" + "$" * 21
    assert ifc_text(UUID(int=0)) == "0" * 22


def test_same_names_give_the_same_identity_for_good() -> None:
    # Written down when the function was made: what people wrote about a topic hangs on it.
    assert identity("House", "1W01-1") == UUID("760d0025-1876-5abe-aa6a-91c4f1b4dfb2")
    assert part_global_id("House", "1W01-1") == "1s3G0b67PQlgfgaSJnjD_o"


@given(st.lists(NAMES, min_size=1, max_size=4), st.lists(NAMES, min_size=1, max_size=4))
def test_different_paths_give_different_identities(one: list[str], other: list[str]) -> None:
    assert (identity(*one) == identity(*other)) == (one == other)


def test_a_run_has_one_identity_a_panel() -> None:
    ids = {run_global_id("House", panel, "DR1") for panel in ("1W01", "2W01")} | {part_global_id("House", "DR1")}
    assert len(ids) == 3
