"""BCF files are read back by an independent library, lead to the spot, and are the same for the same findings."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree as ET

import bcf.bcfxml
import numpy as np
import pytest
from bcf.v2.bcfxml import BcfXml
from bcf.v2.topic import TopicHandler
from PIL import Image

from panelgen.errors import ExportError
from panelgen.export.bcf import write_bcf
from panelgen.export.bcf.archive import MOST_VIEWS
from panelgen.geometry.frames import Frame
from panelgen.model import Finding, House
from panelgen.model.identity import part_global_id, run_global_id
from tests.factories import small_house
from tests.review.findings import NOTE, found, house

DRAIN = (
    found("bore.edge", "1W01", "r0", "1W01.s01", at=(600.0, 300.0)),
    found("bore.edge", "1W03", "r0", "1W03.s02", at=(1200.0, 310.0)),
)
ALL = (
    *DRAIN,
    found("panel.mass", "1W02", value=1500.0, limit=1000.0, unit="kg"),
    found("spec.note", "", severity=NOTE),
    found("bore.size", "1W02", "r1", at=(600.0, 550.0), waived_by="A. Engineer: tested"),
)


@contextmanager
def written(folder: Path, *findings: Finding, of: House | None = None) -> Iterator[BcfXml]:
    """The file as the library reads it; the library raises where an element is not of the schema."""
    write_bcf(folder / "f.bcf", of or house(), findings)
    with bcf.bcfxml.load(folder / "f.bcf") as made:
        yield made


def topics(made: BcfXml) -> list[TopicHandler]:
    return sorted(made.topics.values(), key=lambda topic: topic.topic.index)


def test_is_bcf_2_1_of_the_house(tmp_path: Path) -> None:
    with written(tmp_path, *ALL) as made:
        assert isinstance(made, BcfXml)
        assert made.version.version_id == "2.1"
        assert made.project.name == "Made by hand"


def test_one_topic_a_cause_worst_first_and_waived_closed(tmp_path: Path) -> None:
    with written(tmp_path, *ALL) as made:
        rows = [(one.topic.title, one.topic.topic_type, one.topic.topic_status) for one in topics(made)]
    assert rows == [
        ("1W01: words of bore.edge (and 1 more)", "stop", "Open"),
        ("1W02: words of panel.mass", "stop", "Open"),
        ("House: words of spec.note", "note", "Open"),
        ("1W02: words of bore.size", "stop", "Closed"),
    ]


def test_description_has_every_finding_with_its_numbers(tmp_path: Path) -> None:
    with written(tmp_path, *ALL) as made:
        drain, mass, _, waived = (one.topic.description for one in topics(made))
    assert [line[:2] for line in drain.splitlines() if ". bore.edge" in line] == ["1.", "2."]
    assert "Place: 1W03, 1200 mm along, 310 mm up (3'-11 1/4\", 1'-0 3/16\")" in drain
    assert "Measured: 9.5 mm (3/8 in), limit 15.9 mm (5/8 in)\nSource: the source" in drain
    assert "Measured: 1,500 kg (3,307 lb), limit 1,000 kg (2,205 lb)" in mass
    assert waived.startswith("Waived by A. Engineer: tested")


def test_labels_are_the_codes_and_the_panels(tmp_path: Path) -> None:
    with written(tmp_path, *DRAIN) as made:
        assert topics(made)[0].topic.labels == ["bore.edge", "1W01", "1W03"]


def test_each_panel_has_a_viewpoint_the_first_under_the_name_the_standard_asks(tmp_path: Path) -> None:
    of = small_house(6)
    many = [found("bore.edge", panel.label, "r0", at=(600.0, 300.0)) for panel in of.panels]
    with written(tmp_path, *many, of=of) as made:
        (topic,) = topics(made)
        names = [(view.viewpoint, view.snapshot, view.index) for view in topic.markup.viewpoints]
    assert names[:2] == [("viewpoint.bcfv", "snapshot.png", 0), ("viewpoint-2.bcfv", "snapshot-2.png", 1)]
    assert len(names) == MOST_VIEWS
    assert topic.topic.labels[1:] == [panel.label for panel in of.panels]


def turned() -> House:
    """The house with its panels facing east, so that no axis of a panel is one of the house by chance."""
    frame = Frame((5000.0, 1000.0, 300.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    return replace(house(), panels=tuple(replace(panel, frame=frame) for panel in house().panels))


def test_camera_looks_at_the_spot_from_the_weather_side(tmp_path: Path) -> None:
    of = turned()
    with written(tmp_path, DRAIN[0], of=of) as made:
        (handler,) = topics(made)[0].viewpoints.values()
        camera = handler.visualization_info.perspective_camera
    eye, direction, up = (
        np.array([vector.x, vector.y, vector.z])
        for vector in (camera.camera_view_point, camera.camera_direction, camera.camera_up_vector)
    )
    panel = of.panels[0]
    spot = np.array(panel.frame.point(*DRAIN[0].point)) / 1000.0
    away = float((spot - eye) @ direction)
    assert eye + away * direction == pytest.approx(spot, abs=1e-6)
    assert 1.0 < away < 4.0
    assert direction == pytest.approx((-1.0, 0.0, 0.0))  # weather side of this panel: +x
    assert up == pytest.approx((0.0, 0.0, 1.0))
    assert 45.0 <= camera.field_of_view <= 60.0


def test_camera_steps_back_to_see_spots_far_apart_and_whole_panels(tmp_path: Path) -> None:
    apart = [found("bore.edge", "1W01", "r0", at=(x, 300.0)) for x in (0.0, 3600.0)]
    with written(tmp_path, *apart, found("panel.mass", "1W02")) as made:
        eyes = [next(iter(one.viewpoints.values())).visualization_info.perspective_camera for one in topics(made)]
    for camera, panel in zip(eyes, house().panels, strict=False):
        x, y, distance = panel.frame.to_local([[getattr(camera.camera_view_point, axis) * 1000 for axis in "xyz"]])[0]
        half = np.tan(np.radians(camera.field_of_view / 2)) * (distance - panel.depth[1])
        assert x - half < 0.0
        assert x + half > 3600.0
        assert 0.0 < y < panel.height


def test_parts_involved_are_selected_under_their_ifc_ids(tmp_path: Path) -> None:
    with written(tmp_path, *DRAIN) as made:
        views = [handler.visualization_info for handler in topics(made)[0].viewpoints.values()]
    selected = [[one.ifc_guid for one in view.components.selection.component] for view in views]
    name = house().name
    assert selected == [
        [run_global_id(name, "1W01", "r0"), part_global_id(name, "1W01.s01")],
        [run_global_id(name, "1W03", "r0"), part_global_id(name, "1W03.s02")],
    ]
    assert [view.components.visibility.default_visibility for view in views] == [True, True]
    assert [one.ifc_guid for one in views[0].components.coloring.color[0].component] == selected[0]
    assert views[0].components.selection.component[1].authoring_tool_id == "stud 1W01-05"


def test_snapshot_is_a_picture(tmp_path: Path) -> None:
    with written(tmp_path, *DRAIN) as made:
        (first, *_) = topics(made)[0].viewpoints.values()
        image = Image.open(BytesIO(first.snapshot))
    assert image.format == "PNG"
    assert image.width > image.height > 300
    assert len(image.convert("RGB").getcolors(1 << 20)) > 50


def test_same_findings_give_the_same_bytes_in_any_order(tmp_path: Path) -> None:
    write_bcf(tmp_path / "one.bcf", house(), ALL)
    write_bcf(tmp_path / "other.bcf", house(), ALL[::-1])
    assert (tmp_path / "one.bcf").read_bytes() == (tmp_path / "other.bcf").read_bytes()


def test_a_topic_keeps_its_identity_when_it_changes_or_is_waived(tmp_path: Path) -> None:
    versions = [DRAIN, DRAIN[:1], tuple(replace(one, waived_by="A: b") for one in DRAIN)]
    ids = set()
    for findings in versions:
        with written(tmp_path, *findings) as made:
            ids.update(made.topics)
    assert len(ids) == 1
    with written(tmp_path, DRAIN[0], replace(DRAIN[1], waived_by="A: b")) as made:
        assert len(made.topics) == 2
        assert ids < set(made.topics)


def test_folders_have_entries_and_times_are_fixed(tmp_path: Path) -> None:
    write_bcf(tmp_path / "f.bcf", house(), DRAIN)
    with zipfile.ZipFile(tmp_path / "f.bcf") as archive:
        names = archive.namelist()
        assert archive.testzip() is None
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    folder = names[2]
    assert folder.endswith("/")
    assert {f"{folder}{name}" for name in ("markup.bcf", "viewpoint.bcfv", "snapshot.png")} < set(names)


# Order of the elements in the schemas of BCF-XML 2.1, buildingSMART, markup.xsd and visinfo.xsd.
ORDER = {
    "Markup": ("Header", "Topic", "Comment", "Viewpoints"),
    "Topic": (
        "ReferenceLink", "Title", "Priority", "Index", "Labels", "CreationDate", "CreationAuthor", "ModifiedDate",
        "ModifiedAuthor", "DueDate", "AssignedTo", "Stage", "Description",
    ),
    "Viewpoints": ("Viewpoint", "Snapshot", "Index"),
    "VisualizationInfo": ("Components", "OrthogonalCamera", "PerspectiveCamera"),
    "Components": ("ViewSetupHints", "Selection", "Visibility", "Coloring"),
    "Component": ("OriginatingSystem", "AuthoringToolId"),
    "PerspectiveCamera": ("CameraViewPoint", "CameraDirection", "CameraUpVector", "FieldOfView"),
    "CameraViewPoint": ("X", "Y", "Z"),
}  # fmt: skip


def test_elements_stand_in_the_order_of_the_schemas(tmp_path: Path) -> None:
    write_bcf(tmp_path / "f.bcf", house(), ALL)
    seen = set()
    with zipfile.ZipFile(tmp_path / "f.bcf") as archive:
        for name in archive.namelist():
            if not name.endswith((".bcf", ".bcfv")):
                continue
            for element in ET.fromstring(archive.read(name)).iter():
                order = ORDER.get(element.tag, ())
                places = [order.index(child.tag) for child in element if order]
                assert places == sorted(places)
                seen.add(element.tag)
    assert set(ORDER) <= seen


def test_words_that_xml_cannot_hold_are_replaced(tmp_path: Path) -> None:
    finding = replace(DRAIN[0], words='<b>&"\x00\x0b\ud800', parts=("r0\x01", "1W01.s01"))
    with written(tmp_path, finding, of=replace(house(), name="House <&>\x1f")) as made:
        assert made.project.name == "House <&>\ufffd"
        assert '<b>&"\ufffd\ufffd\ufffd' in topics(made)[0].topic.description


def test_no_findings_give_a_file_without_topics(tmp_path: Path) -> None:
    with written(tmp_path) as made:
        assert made.topics == {}


def test_a_place_that_cannot_be_written_is_an_error_and_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="cannot write"):
        write_bcf(tmp_path / "no folder" / "f.bcf", house(), ALL)
    assert list(tmp_path.iterdir()) == []
