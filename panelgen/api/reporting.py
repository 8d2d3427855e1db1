"""Findings as files for people to act on: a page to read and print, and topics for a model viewer."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import panelgen
from panelgen.api.verbs import pick
from panelgen.files import whole_file
from panelgen.model import Finding, House

__all__ = ["write_bcf", "write_html"]


def write_html(house: House, findings: Sequence[Finding], path: Path | str, panels: Sequence[str] = ()) -> None:
    """Write the findings, grouped by cause and with pictures, as one HTML page that needs no other file.

    With labels in `panels` the page says that it covers only those; `about` narrows the findings down.
    Raises BadValueError for an unknown label, ExportError where the file cannot be written.
    """
    from panelgen.report.html import report_html

    page = report_html(house, pick(house, panels), findings, panelgen.__version__)
    with whole_file(path) as scratch:
        scratch.write_text(page, encoding="utf-8", newline="\n")


def write_bcf(house: House, findings: Sequence[Finding], path: Path | str) -> None:
    """Write one BCF 2.1 topic for each cause, with a camera at the spot. Raises ExportError."""
    from panelgen.export.bcf import write_bcf as write

    write(path, house, findings)
