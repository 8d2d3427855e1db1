"""Files and folders that are whole or not there.

Both are written beside the wanted place and moved into it in one rename. An earlier folder is replaced
only if it is ours and nothing was added to it: every folder carries a list of its own files.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from panelgen.errors import ExportError

__all__ = ["MARKER", "whole_file", "whole_folder"]

MARKER = ".panelgen-files"
"""The file in every folder of ours that lists the others, one a line."""


@contextmanager
def whole_file(path: Path | str) -> Iterator[Path]:
    """Yield the path of an empty scratch file beside `path` that takes its name when the block ends.

    If the block raises, `path` is as it was. Raises ExportError where the file cannot be put there.
    """
    path = Path(path)
    scratch = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        scratch.write_bytes(b"")
        yield scratch
        scratch.replace(path)
    except OSError as error:
        raise ExportError(f"cannot write {path}: {error.strerror or error}") from error
    finally:
        scratch.unlink(missing_ok=True)


@contextmanager
def whole_folder(out: Path) -> Iterator[Path]:
    """Yield an empty scratch folder that becomes `out` when the block ends without an exception.

    Raises ExportError, before anything is written, if `out` exists and is not an empty folder or an
    untouched earlier output; also if the folder beside it cannot be written. Whatever happens, an
    earlier output stays whole until the new one takes its place.
    """
    out = out.resolve()
    _refuse_foreign(out)
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        scratch = Path(tempfile.mkdtemp(prefix=f".{out.name}-", dir=out.parent))
    except OSError as error:
        raise ExportError(f"cannot write beside {out}: {error.strerror}") from error
    try:
        new = scratch / "new"
        new.mkdir()
        yield new
        (new / MARKER).write_text("".join(f"{name}\n" for name in _files(new)), encoding="utf-8")
        _swap(new, out, scratch / "old")
    finally:
        shutil.rmtree(scratch)


def _files(folder: Path) -> list[str]:
    """Every entry below `folder` that is not a folder, relative, in a fixed order; the marker left out."""
    paths = [path for path in folder.rglob("*") if path.is_symlink() or not path.is_dir()]
    return sorted(name for path in paths if (name := path.relative_to(folder).as_posix()) != MARKER)


def _refuse_foreign(out: Path) -> None:
    if out.exists() and not out.is_dir():
        raise ExportError(f"{out} is not a folder; choose another place for the output")
    if out == Path.cwd() or out in Path.cwd().parents:
        raise ExportError(f"{out} is the current folder or holds it; choose a folder of its own for the output")
    if not out.exists() or not any(out.iterdir()):
        return
    marker = out / MARKER
    if not marker.is_file():
        raise ExportError(f"{out} holds files that panelgen did not write; choose an empty or new folder")
    listed = set(marker.read_text(encoding="utf-8").splitlines())
    added = [name for name in _files(out) if name not in listed]
    if added:
        raise ExportError(f"{out} holds files that panelgen did not write, such as {added[0]}; move them away first")


def _swap(new: Path, out: Path, old: Path) -> None:
    try:
        if out.exists():
            out.rename(old)
        new.rename(out)
    except OSError as error:
        if old.exists() and not out.exists():
            old.rename(out)
        raise ExportError(f"cannot put the output at {out}: {error.strerror}") from error
