"""Every notebook runs from top to bottom as it is, and is kept without outputs."""

from __future__ import annotations

from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

FOLDER = Path(__file__).resolve().parents[2] / "notebooks"
NOTEBOOKS = [pytest.param(file, id=file.stem) for file in sorted(FOLDER.glob("*.ipynb"))]


@pytest.mark.slow
@pytest.mark.parametrize("file", NOTEBOOKS)
def test_notebook_runs(file: Path) -> None:
    notebook = nbformat.read(file, as_version=4)
    NotebookClient(notebook, timeout=120, resources={"metadata": {"path": str(FOLDER)}}).execute()
    nbformat.validate(notebook)


@pytest.mark.parametrize("file", NOTEBOOKS)
def test_notebook_is_kept_without_outputs(file: Path) -> None:
    cells = [cell for cell in nbformat.read(file, as_version=4).cells if cell.cell_type == "code"]
    assert cells
    assert [cell.id for cell in cells if cell.outputs or cell.execution_count] == []
