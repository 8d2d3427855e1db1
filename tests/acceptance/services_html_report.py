"""The HTML report of the faulty house, as `panelgen check --html` writes it, is whole in itself.

Run with ``python -m tests.acceptance.services_html_report``. It must refer to nothing outside, and every group
of stop findings must have a picture with a spot marked.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.report.html_reader import Page

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "tern-cottage-faulty.yaml"


def written(file: Path) -> str:
    """The report that the command line writes."""
    command = [sys.executable, "-m", "panelgen", "check", str(EXAMPLE), "--html", str(file)]
    result = subprocess.run(command, capture_output=True, text=True, check=False)
    sys.stderr.write(result.stderr)
    return file.read_text(encoding="utf-8")


def main() -> int:
    """Print what is wrong, then the counts."""
    with tempfile.TemporaryDirectory() as folder:
        text = written(Path(folder) / "findings.html")
    page = Page(text)
    outside = page.outside() + re.findall(r"url\([^)]*\)|@import[^;]*", text)
    articles = re.findall(r"<article.*?</article>", text, re.DOTALL)
    stops = [article for article in articles if 'class="badge stop"' in article]
    bare = [article for article in stops if '<svg class="picture"' not in article or 'class="spot"' not in article]
    for reference in outside:
        print(f"refers to {reference}")
    for article in bare:
        print(f"no picture: {Page(article).text[:100]}")
    print(
        f"{len(text) / 1000:.0f} kB, {len(articles)} causes, {len(stops)} of them stop, {len(bare)} without a picture, "
        f"{page.values('role').count('img')} pictures, {len(outside)} references outside"
    )
    return 1 if outside or bare or not stops else 0


if __name__ == "__main__":
    sys.exit(main())
