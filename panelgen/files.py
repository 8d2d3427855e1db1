"""A file that is whole or not there."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from panelgen.errors import ExportError

__all__ = ["whole_file"]


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
