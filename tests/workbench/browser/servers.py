"""Notebook servers on this machine alone, each with a folder, a configuration and a kernel of its own."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import nbformat

from tests.project.tree import PACKAGE, ROOT
from tests.workbench.examples import crossed

__all__ = ["TEMPLATE", "bench_notebook", "crossed_notebook", "lab", "server_folder", "voila"]

TEMPLATE = PACKAGE / "workbench" / "voila"
_SECONDS = 90


def server_folder(place: Path) -> Path:
    """A folder with copies of the notebooks and examples, as they lie in the project."""
    for name in ("notebooks", "examples"):
        shutil.copytree(ROOT / name, place / name)
    return place


def crossed_notebook(place: Path) -> str:
    """Put in a notebook that is a bench alone, of a wall with a fault and a reason like markup; returns its name."""
    text = crossed().replace("reason: wall-hung basin", "reason: <img src=x onerror=alert(1)>")
    (place / "examples" / "crossed.yaml").write_text(text, encoding="utf-8")
    return bench_notebook(place, "crossed")


def bench_notebook(place: Path, example: str) -> str:
    """Put in a notebook that is a bench alone, of an example; returns its name."""
    tour = nbformat.read(place / "notebooks" / "first-tour.ipynb", as_version=4)
    opening = next(cell for cell in tour.cells if cell.cell_type == "code")
    opening.source = opening.source.replace("one-wall.yaml", f"{example}.yaml")
    tour.cells = [opening]
    nbformat.write(tour, place / "notebooks" / f"{example}.ipynb")
    return example


@contextmanager
def lab(folder: Path) -> Iterator[str]:
    """JupyterLab on a folder; yields its address."""
    settings = folder / "private" / "JUPYTERLAB_SETTINGS_DIR" / "@jupyterlab" / "apputils-extension"
    settings.mkdir(parents=True, exist_ok=True)
    (settings / "notification.jupyterlab-settings").write_text('{"fetchNews": "false", "checkForUpdates": false}')
    options = [
        "--expose-app-in-browser", "--IdentityProvider.token=", "--ip=127.0.0.1", "--allow-root",
        f"--ServerApp.root_dir={folder}",
    ]  # fmt: skip
    with _served(["jupyterlab"], options, folder) as (address, _):
        yield f"{address}/lab"


@contextmanager
def voila(folder: Path, notebook: str) -> Iterator[str]:
    """Voila on one notebook of a folder; yields its address."""
    shutil.copytree(
        TEMPLATE, folder / "private" / "JUPYTER_DATA_DIR" / "voila" / "templates" / "panelgen", dirs_exist_ok=True
    )
    with _served(["voila", f"notebooks/{notebook}.ipynb"], ["--show_tracebacks=True"], folder) as (address, _):
        yield address


@contextmanager
def _served(command: Sequence[str], options: Sequence[str], folder: Path) -> Iterator[tuple[str, Path]]:
    port, log = _free_port(), folder / "server.log"
    private = {
        name: str(folder / "private" / name)
        for name in (
            "IPYTHONDIR", "JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "JUPYTERLAB_SETTINGS_DIR",
            "JUPYTERLAB_WORKSPACES_DIR",
        )
    }  # fmt: skip
    own = [f"--port={port}", "--no-browser"]
    environment = {**os.environ, **private, "PYTHONPATH": str(ROOT)}
    with log.open("wb") as stream:
        process = subprocess.Popen(
            [sys.executable, "-m", *command, *own, *options], cwd=folder, env=environment, stdout=stream, stderr=stream
        )
        try:
            _wait(f"http://127.0.0.1:{port}/", process, log)
            yield f"http://127.0.0.1:{port}", log
        finally:
            process.terminate()
            process.wait(30)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _wait(address: str, process: subprocess.Popen[bytes], log: Path) -> None:
    """Until the port answers; a page may take long, so only the port is asked."""
    port = int(address.rsplit(":", 1)[1].rstrip("/"))
    end = time.monotonic() + _SECONDS
    while time.monotonic() < end:
        if process.poll() is not None:
            break
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.2)
    raise RuntimeError(log.read_text(encoding="utf-8", errors="replace"))
