"""A fresh interpreter that checks a house never loads a CAD, mesh or IFC library."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from tests.project.tree import ROOT

HEAVY = {"OCP", "cadquery", "ifcopenshell", "ipywidgets", "jupyterlab", "trimesh", "vtkmodules"}
COMMANDS = [
    "from panelgen.cli import main; main(['check', 'examples/tern-cottage.yaml'])",
    "from panelgen.cli import main; main(['check', 'examples/one-wall.yaml', '--json'])",
    "from panelgen.cli import main; main(['schema'])",
    "from panelgen import api; api.build; api.read_ifc",
]


def loaded_after(code: str) -> set[str]:
    """Top-level names in `sys.modules` after running `code` in a new interpreter."""
    tail = "; import json, sys; print(json.dumps(sorted(sys.modules)), file=sys.stderr)"
    result = subprocess.run([sys.executable, "-c", code + tail], cwd=ROOT, capture_output=True, text=True, check=True)
    return {name.partition(".")[0] for name in json.loads(result.stderr)}


@pytest.mark.parametrize("code", COMMANDS)
def test_nothing_heavy_is_loaded(code: str) -> None:
    loaded = loaded_after(code)
    assert "panelgen" in loaded
    assert loaded & HEAVY == set()


def test_package_alone_loads_none_of_its_rooms() -> None:
    code = "import sys, panelgen; assert [name for name in sys.modules if name.startswith('panelgen.')] == []"
    assert "numpy" not in loaded_after(code)
