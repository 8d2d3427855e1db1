"""A picture without a screen, made by a browser where there is one."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from collections.abc import Iterable
from pathlib import Path

from panelgen.errors import ExportError
from panelgen.files import whole_file
from panelgen.model import Finding, House, Panel
from panelgen.view.page import page_html
from panelgen.view.payload import changes, payload_of
from panelgen.view.themes import Theme

__all__ = ["snapshot"]

_BROWSERS = ("chromium", "chromium-browser")
_ARGUMENTS = (
    "--headless=new",
    "--no-sandbox",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--hide-scrollbars",
    "--virtual-time-budget=4000",
)
_SECONDS = 120


def snapshot(
    thing: House | Panel,
    path: Path | str,
    findings: Iterable[Finding] = (),
    *,
    size: tuple[int, int] = (1600, 1000),
    theme: Theme = "light",
    explode: float = 0.0,
) -> Path:
    """Write a PNG of a house or a panel, `size` pixels wide and high. Returns its path.

    `explode` is how far it is taken apart, 0 to 1: a house in panels, a panel in layers.

    Raises ExportError where no browser is installed or it makes no picture.
    """
    browser = next(filter(None, map(shutil.which, _BROWSERS)), None)
    if browser is None:
        raise ExportError(f"a picture needs a browser: install one of {', '.join(_BROWSERS)}")
    path = Path(path)
    options = {"theme": theme, "bare": True, "animate": False, "explode": explode}
    page = page_html(path.stem, changes(None, payload_of(thing, findings)), options)
    with tempfile.TemporaryDirectory() as folder, whole_file(path) as scratch:
        source, picture = Path(folder) / "page.html", Path(folder) / "picture.png"
        source.write_text(page, encoding="utf-8", newline="\n")
        command = [
            browser,
            *_ARGUMENTS,
            f"--user-data-dir={folder}/profile",
            f"--window-size={size[0]},{size[1]}",
            f"--screenshot={picture}",
            source.as_uri(),
        ]
        try:
            subprocess.run(command, capture_output=True, timeout=_SECONDS, check=True)
            scratch.write_bytes(picture.read_bytes())
        except (OSError, subprocess.SubprocessError) as error:
            raise ExportError(f"{browser} made no picture: {error}") from error
    return path
