"""A picture without a screen."""

from __future__ import annotations

import shutil
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from panelgen.errors import ExportError
from panelgen.view import snapshot
from tests.factories import wall_panel

SIZE = (640, 480)


def test_picture_shows_the_panel(tmp_path: Path) -> None:
    file = snapshot(wall_panel(), tmp_path / "panel.png", size=SIZE)
    picture = Image.open(file)
    assert picture.size == SIZE
    assert len(np.unique(np.asarray(picture.convert("RGB")).reshape(-1, 3), axis=0)) > 20


def test_without_a_browser_it_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda _name: None)
    with pytest.raises(ExportError, match="chromium"):
        snapshot(wall_panel(), tmp_path / "panel.png")
    assert list(tmp_path.iterdir()) == []
