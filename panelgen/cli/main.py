"""Runs one command and turns what went wrong into words and an exit code."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

from panelgen.cli.arguments import parser
from panelgen.errors import PanelgenError

__all__ = ["main"]

_BAD_INPUT = 2
_INTERRUPTED = 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line (by default the process's own); returns the exit code.

    Raises SystemExit where the arguments are wrong or ask for help, as argparse does.
    """
    parsed = parser().parse_args(arguments)
    try:
        code: int = parsed.run(parsed)
        sys.stdout.flush()
    except BrokenPipeError:  # whoever reads our output has seen enough, as `head` does
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return _INTERRUPTED
    except (PanelgenError, OSError) as error:
        print(f"panelgen: {_words(error)}", file=sys.stderr)
        return _BAD_INPUT
    return code


def _words(error: Exception) -> str:
    if isinstance(error, OSError) and error.filename is not None:
        return f"{error.filename}: {error.strerror}"
    return str(error)
