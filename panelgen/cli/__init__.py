"""The command line: arguments in, text and exit codes out; the work is done by `panelgen.api`.

Exit codes: 0 clean, 1 stop findings, 2 bad input or a file that cannot be read or written. An exception
that nobody foresaw keeps its traceback.
"""

from panelgen.cli.main import main

__all__ = ["main"]
