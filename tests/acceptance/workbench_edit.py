"""What an edit of one panel takes, against doing everything again.

Run with ``python -m tests.acceptance.workbench_edit``. Prints the figures of `tests.benchmarks.one_panel_edit`; its
bars are 16 ms for design, check and payload of one wall, and 50 kB sent.
"""

from __future__ import annotations

import sys

from tests.benchmarks.one_panel_edit import MOST_BYTES, MOST_MS, house_edits, one_wall_edits


def main() -> int:
    """Print the figures, the bars on the last line."""
    times, sizes = house_edits()
    median, most = one_wall_edits()
    print(
        f"one panel: {median:.1f} ms (bar {MOST_MS:.0f}), {most / 1000:.1f} kB (bar {MOST_BYTES / 1000:.0f}); "
        f"in a house everything again is {times:.0f} times the time and {sizes:.0f} times the bytes"
    )
    return 0 if median < MOST_MS and most <= MOST_BYTES else 1


if __name__ == "__main__":
    sys.exit(main())
