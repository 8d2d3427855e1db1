"""Reads the catalog's CSV tables: one record a line, each cell read with its column's unit.

A column's name ends in its unit (``width_in``, ``snow_psf``). The cell ``any`` in a limit means that
the rule does not ask. A malformed cell raises CatalogError naming file, line and column.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any, TypedDict, TypeVar, get_args

from panelgen.catalog.rows import Grade, Source
from panelgen.errors import CatalogError
from panelgen.units import MM_PER_INCH, parse_density, parse_length, parse_pressure

__all__ = ["Citation", "DataFolder", "Record"]

_ANY = "any"
_MPA_PER_PSI = parse_pressure("1 psf") * 144 / 1000
_T = TypeVar("_T")


class Citation(TypedDict):
    """The fields of `Fact`, ready to pass to a row."""

    source: str
    edition: str
    grade: Grade


class Record:
    """One line of a table. Readers take a column name without its unit and return mm, kPa, kg/m3 or mm3."""

    __slots__ = ("_cells", "_place", "_sources")

    def __init__(self, cells: Mapping[str, str], place: str, sources: Mapping[str, Source]) -> None:
        self._cells = cells
        self._place = place
        self._sources = sources

    def text(self, column: str) -> str:
        """The cell as it stands, which must not be empty."""
        return self._read(column, _filled)

    def choice(self, column: str, choices: Any) -> Any:
        """The cell, which must be one of the values of a Literal."""
        return self._read(column, lambda text: _one_of(text, get_args(choices)))

    def key(self, column: str, rows: Mapping[str, object]) -> str:
        """The cell, which must be a key of `rows`, a table read before."""
        return self._read(column, lambda text: _one_of(text, tuple(rows)))

    def number(self, column: str) -> float:
        """A plain number."""
        return self._read(column, _number)

    def count(self, column: str) -> int:
        """A whole number."""
        return self._read(column, int)

    def count_or_any(self, column: str) -> int | None:
        """A whole number, or None for ``any``."""
        return self._read(column, lambda text: None if text == _ANY else int(text))

    def yes(self, column: str) -> bool:
        """True for ``yes``, False for ``no``."""
        return self._read(column, lambda text: _one_of(text, ("yes", "no"))) == "yes"

    def fraction(self, column: str) -> float:
        """A share written as a fraction, such as ``1/6``."""
        return self._read(column, lambda text: float(Fraction(text)))

    def percent(self, column: str) -> float:
        """A share, from a column in percent."""
        return self._read(f"{column}_percent", _number) / 100

    def inches(self, column: str) -> float:
        """A length, mm, from a column in inches; infinite for ``any``."""
        return self._read(f"{column}_in", lambda text: _length(text, "in"))

    def feet(self, column: str) -> float:
        """A length, mm, from a column in feet; infinite for ``any``."""
        return self._read(f"{column}_ft", lambda text: _length(text, "ft"))

    def length(self, column: str) -> float:
        """A length, mm, that carries its own unit, such as ``3'-1``."""
        return self._read(column, lambda text: _length(text, "mm"))

    def load(self, column: str) -> float:
        """A load, kPa, from a column in psf; infinite for ``any``."""
        return self._read(f"{column}_psf", lambda text: math.inf if text == _ANY else parse_pressure(f"{text} psf"))

    def stress(self, column: str) -> float:
        """A stress or modulus, MPa, from a column in psi."""
        return self._read(f"{column}_psi", _number) * _MPA_PER_PSI

    def density(self, column: str) -> float:
        """A density, kg/m3, from a column in pcf."""
        return self._read(f"{column}_pcf", lambda text: parse_density(f"{text} pcf"))

    def volume(self, column: str) -> float:
        """A volume, mm3, from a column in cubic inches."""
        return self._read(f"{column}_in3", _number) * MM_PER_INCH**3

    def sizes(self, column: str) -> tuple[tuple[float, float], ...]:
        """Sheet sizes, mm, from ``48x96 48x120`` in inches."""
        return self._read(f"{column}_in", lambda text: tuple(_size(size) for size in text.split()))

    def citation(self) -> Citation:
        """Source, edition and grade of the line."""
        source = self._read("source", self._sources.__getitem__)
        return Citation(source=source.title, edition=source.edition, grade=self.choice("grade", Grade))

    def _read(self, column: str, reader: Callable[[str], _T]) -> _T:
        try:
            return reader(self._cells[column])
        except (LookupError, ValueError) as error:
            raise CatalogError(f"{self._place}, column {column}: cannot use {self._cells.get(column)!r}") from error


class DataFolder:
    """A folder of tables: ``sources.csv``, and tables whose rows cite it."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self.sources = {
            cells["key"]: Source(key=cells["key"], title=cells["title"], edition=cells["edition"], where=cells["where"])
            for _, cells in self._lines("sources")
        }

    def records(self, table: str) -> Iterator[Record]:
        """The lines of ``<table>.csv``. Raises CatalogError where the table is missing or a line is ragged."""
        for place, cells in self._lines(table):
            yield Record(cells, place, self.sources)

    def _lines(self, table: str) -> Iterator[tuple[str, dict[str, str]]]:
        path = self._path / f"{table}.csv"
        try:
            text = path.read_text(encoding="utf-8")
        except OSError as error:
            raise CatalogError(f"the catalog table {path} cannot be read") from error
        reader = csv.reader(text.splitlines())
        columns = next(reader, [])
        for values in reader:
            place = f"{path.name} line {reader.line_num}"
            if len(values) != len(columns):
                raise CatalogError(f"{place}: {len(values)} cells for {len(columns)} columns")
            yield place, dict(zip(columns, values, strict=True))


def _filled(text: str) -> str:
    if not text:
        raise ValueError("empty cell")
    return text


def _number(text: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        raise ValueError("not finite")
    return value


def _one_of(text: str, choices: tuple[str, ...]) -> str:
    if text not in choices:
        raise ValueError(f"not one of {choices}")
    return text


def _length(text: str, unit: str) -> float:
    """Read a length, mm, so rounded that 24 in is 609.6 and not a hair less."""
    return math.inf if text == _ANY else round(parse_length(text, unit), 9)


def _size(text: str) -> tuple[float, float]:
    width, length = (_length(side, "in") for side in text.split("x"))
    return width, length
