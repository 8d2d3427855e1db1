"""Every notebook from top to bottom, as it is kept: without outputs.

Run with ``python -m tests.acceptance.workbench_notebooks``.
"""

from __future__ import annotations

import sys
import time

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError

from tests.project.tree import ROOT

FOLDER = ROOT / "notebooks"


def main() -> int:
    """Print each notebook with its cells and its seconds, then the sums."""
    failed, kept, names = 0, 0, sorted(FOLDER.glob("*.ipynb"))
    for file in names:
        notebook = nbformat.read(file, as_version=4)
        cells = [cell for cell in notebook.cells if cell.cell_type == "code"]
        kept += sum(bool(cell.outputs or cell.execution_count) for cell in cells)
        begin = time.perf_counter()
        try:
            NotebookClient(notebook, timeout=300, resources={"metadata": {"path": str(FOLDER)}}).execute()
        except CellExecutionError as error:
            failed += 1
            print(error)
        print(f"{file.name}: {len(cells)} cells in {time.perf_counter() - begin:.0f} s")
    print(f"{len(names)} notebooks executed, {failed} failed, {kept} cells kept with outputs")
    return 1 if failed or kept or not names else 0


if __name__ == "__main__":
    sys.exit(main())
