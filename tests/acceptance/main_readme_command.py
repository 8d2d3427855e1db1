"""README's first command, on a fresh clone with a fresh virtual environment, writes models and findings.

Run with ``python -m tests.acceptance.main_readme_command``. Takes minutes: it installs everything.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.project import readme
from tests.project.tree import ROOT


def main() -> int:
    """Print what the command wrote."""
    command = readme.blocks("sh")[0]
    out = command.split()[-1]
    with tempfile.TemporaryDirectory() as folder:
        clone = Path(folder) / "panelgen"
        subprocess.run(["git", "clone", "--quiet", str(ROOT), str(clone)], check=True)
        print(command, flush=True)
        start = time.perf_counter()
        result = subprocess.run(["bash", "-c", command], cwd=clone, capture_output=True, text=True, check=False)
        seconds = time.perf_counter() - start
        print("\n".join(result.stdout.splitlines()[-40:]))
        print(result.stderr, file=sys.stderr)
        steps = sorted((clone / out).rglob("*.step"))
        meshes = sorted((clone / out).rglob("*.stl"))
        table = clone / out / "findings.txt"
        shown = table.is_file() and table.read_text(encoding="utf-8") in result.stdout
    print(
        f"exit {result.returncode} after {seconds:.0f} s: {len(steps)} STEP and {len(meshes)} STL files, "
        f"findings table {'shown and written' if shown else 'MISSING'}"
    )
    return 0 if result.returncode == 0 and steps and meshes and shown else 1


if __name__ == "__main__":
    sys.exit(main())
