"""A catalog folder that is not right says where."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from panelgen.catalog import Catalog
from panelgen.errors import CatalogError

DATA = Path(__file__).parents[2] / "panelgen" / "catalog" / "data"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the shipped tables."""
    return Path(shutil.copytree(DATA, tmp_path / "data"))


def replace(path: Path, old: str, new: str) -> None:
    """Change the first `old` of a table, which must be there."""
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_a_whole_folder_is_read(folder: Path) -> None:
    assert Catalog.read(folder).facts() == Catalog.default().facts()


def test_a_changed_number_changes_the_row(folder: Path) -> None:
    replace(folder / "lumber.csv", "2x4,1-1/2,3-1/2", "2x4,1-1/2,3-3/8")
    assert Catalog.read(folder).stock("2x4").width == pytest.approx(3.375 * 25.4)


@pytest.mark.parametrize(
    ("table", "old", "new", "words"),
    [
        ("lumber", "2x4,1-1/2", "2x4,wide", r"lumber.csv line 3, column thickness_in: cannot use 'wide'"),
        ("lumber", "2x4,", "2x3,", "'2x3' twice"),
        ("lumber", "2x3,1-1/2", "2x3,1-1/2,9", "lumber.csv line 2: 6 cells for 5 columns"),
        ("lumber", "ps20,B", "ps20,D", "column grade: cannot use 'D'"),
        ("lumber", "ps20,B", "nowhere,B", "column source: cannot use 'nowhere'"),
        ("lumber", "width_in", "width_mm", "column width_in: cannot use None"),
        ("lumber", "2x3,", ",", "column name: cannot use ''"),
        ("species", "0.42", "nan", "column gravity: cannot use 'nan'"),
        ("service_sizes", "pex-3/8,pipe", "pex-3/8,hose", "column family: cannot use 'hose'"),
        ("service_sizes", "pipe,pex,", "pipe,hose,", "service_sizes.csv line 2, column series: cannot use 'hose'"),
        ("fittings", "pex-3/8,", "pex-9/8,", "fittings.csv line 2, column size: cannot use 'pex-9/8'"),
        ("bend_radii", "nm,any", "nm,all", "bend_radii.csv line 2, column size: cannot use 'all'"),
        ("turns", "11.25", "inf", "column angle_deg: cannot use 'inf'"),
        ("supports", "irc,pex", "irc,hose", "supports.csv line 2, column series: cannot use 'hose'"),
        ("screw_zones", "gypsum-1/2", "gypsum-9", "screw_zones.csv line 2, column board: cannot use 'gypsum-9'"),
        ("system_clearances", "any,any", "gas,gas", "no system clearance 'any to any'"),
        ("joints", "16d common", "17d common", "joints.csv line 2, column fastener: cannot use '17d common'"),
        ("headers", "2x4", "2x5", "headers.csv line 2, column stock: cannot use '2x5'"),
        ("studs", "yes", "perhaps", "column bearing: cannot use 'perhaps'"),
        ("rule_sets", "irc-2018", "irc-1900", "rule set irc-2021: headers.csv has no set 'irc-1900'"),
        ("plate_laps", "wac,48", "irc,48", "set 'irc' must be one line, not 2"),
    ],
)
def test_a_wrong_cell_is_named(folder: Path, table: str, old: str, new: str, words: str) -> None:
    replace(folder / f"{table}.csv", old, new)
    with pytest.raises(CatalogError, match=words):
        Catalog.read(folder)


def test_a_missing_table_is_named(folder: Path) -> None:
    (folder / "kings.csv").unlink()
    with pytest.raises(CatalogError, match=r"kings\.csv cannot be read"):
        Catalog.read(folder)
