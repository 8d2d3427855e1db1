"""The BCF file of the faulty house, as `panelgen check --bcf` writes it, is read back by an independent library.

Run with ``python -m tests.acceptance.services_bcf_rereads``. Every finding, the planted faults among them, must
be told by a topic one of whose cameras has its place in view; every viewpoint must have a picture; and a second
run must give the same bytes.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import bcf.bcfxml
import numpy as np
import yaml
from bcf.v2.topic import TopicHandler
from PIL import Image

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def check(file: Path) -> list[dict[str, Any]]:
    """Write `file`; returns the findings as the JSON report has them."""
    command = [sys.executable, "-m", "panelgen", "check", str(EXAMPLES / "tern-cottage-faulty.yaml")]
    result = subprocess.run([*command, "--json", "--bcf", str(file)], capture_output=True, text=True, check=False)
    sys.stderr.write(result.stderr)
    return json.loads(result.stdout)["findings"]


def sees(topic: TopicHandler, place: list[float]) -> bool:
    """Whether a camera of the topic has the place (house coordinates, mm) in its field of view."""
    for handler in topic.viewpoints.values():
        camera = handler.visualization_info.perspective_camera
        eye, ahead = (
            np.array([vector.x, vector.y, vector.z]) for vector in (camera.camera_view_point, camera.camera_direction)
        )
        toward = np.array(place) / 1000.0 - eye
        if np.degrees(np.arccos(toward @ ahead / np.linalg.norm(toward))) < camera.field_of_view / 2:
            return True
    return False


def tells(topic: TopicHandler, finding: dict[str, Any]) -> bool:
    """Whether the topic's description has the finding."""
    return f"{finding['code']}: {finding['words']}" in (topic.topic.description or "")


def wrong_with(topics: list[TopicHandler], findings: list[dict[str, Any]]) -> Iterator[str]:
    """Findings that no topic tells or shows, and planted faults that are not among them."""
    for finding in findings:
        own = [topic for topic in topics if tells(topic, finding)]
        if not own:
            yield f"no topic tells: {finding['words']}"
        elif finding["house_point"] and not any(sees(topic, finding["house_point"]) for topic in own):
            yield f"no camera sees: {finding['words']}"
    planted = yaml.safe_load((EXAMPLES / "tern-cottage-faulty.faults.yaml").read_text(encoding="utf-8"))["faults"]
    found = {(finding["code"], finding["panel"], part) for finding in findings for part in finding["parts"]}
    yield from (f"not found: {fault}" for fault in planted if tuple(fault.values()) not in found)


def main() -> int:
    """Print what is wrong, then how many topics were read."""
    with tempfile.TemporaryDirectory() as folder:
        one, other = Path(folder) / "one.bcf", Path(folder) / "other.bcf"
        findings = check(one)
        check(other)
        wrong = [] if one.read_bytes() == other.read_bytes() else ["a second run gives other bytes"]
        with bcf.bcfxml.load(one) as made:
            topics = list(made.topics.values())
            wrong += wrong_with(topics, findings)
            pictures = [handler.snapshot for topic in topics for handler in topic.viewpoints.values()]
            version = made.version.version_id
    for picture in pictures:
        Image.open(BytesIO(picture)).verify()
    for line in wrong:
        print(line)
    print(
        f"BCF {version}: {len(topics)} topics re-read, {len(pictures)} viewpoints with pictures, "
        f"{len(findings)} findings, {len(wrong)} wrong"
    )
    return 1 if wrong or not topics else 0


if __name__ == "__main__":
    sys.exit(main())
