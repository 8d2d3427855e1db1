"""The payload says what the model holds: every part, its shape, its order and its words."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from panelgen import api
from panelgen.model import Bore, Change, Finding, House, Panel, Proposal, Severity
from panelgen.model.palette import GROUP_COLOURS, OKABE_ITO
from panelgen.model.volumes import box_volume, member_volume, sheet_volume
from panelgen.view import Payload, changes, house_payload, panel_payload
from panelgen.view.payload import kernel_packer
from panelgen.view.tables import finding_key
from tests.factories import raked_panel, small_house, wall_panel
from tests.model.trusses import truss_row
from tests.project.tree import ROOT
from tests.view import reading

FLOAT32 = 1e-6
PANELS = {"wall": lambda: wall_panel(runs=2), "raked": raked_panel}


@cache
def cottage() -> House:
    return api.design(api.load(ROOT / "examples" / "one-wall.yaml"))


@pytest.fixture(params=["wall", "raked", "designed"])
def panel(request: pytest.FixtureRequest) -> Panel:
    return cottage().panels[0] if request.param == "designed" else PANELS[request.param]()


@pytest.fixture
def payload(panel: Panel) -> Payload:
    return panel_payload(panel)


def test_every_part_has_one_row(panel: Panel, payload: Payload) -> None:
    model = (
        *panel.members, *panel.sheets, *panel.fasteners, *panel.openings, *panel.runs, *panel.boxes,
        *panel.sleeves, *panel.hardware, *panel.bays, *panel.fittings,
    )  # fmt: skip
    rows = reading.parts(payload, panel.label)
    assert sorted(row["id"] for row in rows) == sorted(part.id for part in model)
    said = {row["id"]: row["why"] for row in rows}
    assert said == {part.id: [part.why.rule, part.why.words, part.why.source] for part in model}


def test_solids_have_the_volumes_of_the_model(panel: Panel, payload: Payload) -> None:
    rows = reading.parts(payload, panel.label)
    found = {rows[row]["id"]: volume for row, volume in reading.volumes(payload, panel.label).items()}
    for part, volume in (
        *((member, member_volume(member)) for member in panel.members),
        *((box, box_volume(box)) for box in panel.boxes),
        *((bay, bay.gross_volume * 1e9) for bay in panel.bays),
    ):
        assert found[part.id] == pytest.approx(volume, rel=2e-3), part.id
    for sheet in panel.sheets:
        assert found[sheet.id] == pytest.approx(sheet_volume(sheet), rel=2e-3)


def test_plain_sticks_are_boxes_to_single_precision(panel: Panel, payload: Payload) -> None:
    rows = reading.parts(payload, panel.label)
    members = {member.id: member for member in panel.members}
    count = 0
    for _, data in reading.shape_blocks(payload, panel.label, "boxes"):
        for row, (corner, *edges) in zip(*reading.boxes(data), strict=True):
            member = members.get(rows[row]["id"])
            if member is None:
                continue
            count += 1
            far = corner + sum(edges)
            assert np.allclose(corner, member.frame.origin, rtol=FLOAT32, atol=1e-3)
            assert np.allclose(far, member.corners()[7], rtol=FLOAT32, atol=1e-3)
    plain = [m for m in panel.members if m.has_square_ends and not m.bores and not m.notches]
    assert count == len(plain) > 0


def entry(bore: Bore) -> tuple[float, float]:
    """Where the axis of a bore crosses the near face of its stick."""
    (x, y, z), (a, b, c) = bore.point, bore.axis
    return x - a * z / c, y - b * z / c


def test_bored_sticks_are_boxes_with_the_holes_of_the_model() -> None:
    panel = wall_panel(runs=2)
    payload = panel_payload(panel)
    rows = reading.parts(payload, panel.label)
    (block,) = reading.shape_blocks(payload, panel.label, "bored")
    found = {rows[row]["id"]: (edges, holes) for row, edges, holes in reading.bored(block[1])}
    members = {member.id: member for member in panel.members if member.bores and not member.notches}
    assert set(found) == set(members) != set()
    for name, member in members.items():
        edges, holes = found[name]
        size = np.linalg.norm(edges[1:], axis=1)
        assert size == pytest.approx((member.length, member.width, member.thickness), rel=FLOAT32)
        wanted = sorted((*entry(bore), bore.diameter / 2) for bore in member.bores)
        assert np.allclose(sorted(holes[:, [0, 1, 4]].tolist()), wanted, rtol=FLOAT32)


def test_tubes_follow_the_runs_at_their_outside_diameter() -> None:
    panel = wall_panel(runs=2)
    payload = panel_payload(panel)
    rows = reading.parts(payload, panel.label)
    length: dict[str, float] = {}
    for _, data in reading.shape_blocks(payload, panel.label, "tubes"):
        for row, value in zip(*reading.tubes(data), strict=True):
            part = rows[row]
            length[part["id"]] = length.get(part["id"], 0.0) + math.dist(value[:3], value[3:6])
            run = next((run for run in panel.runs if run.id == part["id"]), None)
            assert run is None or 2 * value[6] == pytest.approx(run.outside_diameter, rel=FLOAT32)
    wanted = {
        run.id: sum(math.dist(a, b) for a, b in zip(run.path, run.path[1:], strict=False))
        for run in panel.runs
        if run.section is None
    }
    assert wanted
    assert {name: length[name] for name in wanted} == pytest.approx(wanted, rel=1e-5)


def test_nails_keep_their_places_to_a_fifth_of_a_millimetre() -> None:
    panel = cottage().panels[0]
    payload = panel_payload(panel)
    rows = reading.parts(payload, panel.label)
    found = {
        rows[row.row]["id"]: row
        for _, data in reading.shape_blocks(payload, panel.label, "nails")
        for row in reading.nails(data)
    }
    assert set(found) == {nails.id for nails in panel.fasteners}
    for nails in panel.fasteners:
        own = found[nails.id]
        assert np.abs(own.places - nails.points).max() < 0.2
        assert np.allclose(own.direction, nails.direction)
        assert (own.length, own.shank) == pytest.approx((nails.length, nails.shank), rel=FLOAT32)


def test_rows_come_in_an_order_that_can_be_built(panel: Panel, payload: Payload) -> None:
    layers = [row["layer"] for row in reading.parts(payload, panel.label)]
    first = {layer: layers.index(layer) for layer in dict.fromkeys(layers)}
    last = {layer: len(layers) - 1 - layers[::-1].index(layer) for layer in first}
    assert first["framing"] == 0
    for before, after in (
        ("framing", "outer sheathing"),
        ("outer sheathing", "inner sheathing"),
        ("inner sheathing", "strapping"),
        ("strapping", "insulation"),
    ):
        if after in first and before in last:
            assert last[before] < first[after]


def test_rows_in_a_block_never_fall(panel: Panel, payload: Payload) -> None:
    readers = {
        "boxes": lambda data: reading.boxes(data)[0].tolist(),
        "panes": lambda data: reading.boxes(data)[0].tolist(),
        "tubes": lambda data: reading.tubes(data)[0].tolist(),
        "mesh": lambda data: [row for row, _ in reading.meshes(data)],
        "bored": lambda data: [row for row, _, _ in reading.bored(data)],
        "nails": lambda data: [own.row for own in reading.nails(data)],
    }
    blocks = [(kind, data) for kind in readers for _, data in reading.shape_blocks(payload, panel.label, kind)]
    assert blocks
    for kind, data in blocks:
        rows = readers[kind](data)
        assert rows == sorted(rows)
        assert len(data) % 4 == 0


def test_slots_follow_the_depth_of_the_layers() -> None:
    panel = cottage().panels[0]
    heads = panel_payload(panel).panels[panel.label]["blocks"]
    slots = {head["layer"]: head["slot"] for head in heads if head["kind"] in ("boxes", "mesh")}
    shown = {name: slots[name] for name in ("outer sheathing", "framing", "inner sheathing", "strapping")}
    assert shown == {"outer sheathing": 1, "framing": 0, "inner sheathing": -1, "strapping": -2}


def test_masses_add_up() -> None:
    panel = cottage().panels[0]
    payload = panel_payload(panel)
    masses = [row["mass"] for row in reading.parts(payload, panel.label) if row["mass"] is not None]
    assert payload.panels[panel.label]["mass"] == pytest.approx(sum(masses), abs=0.1)
    assert len(masses) == len(panel.members) + len(panel.sheets) + len(panel.bays)


def test_colours_are_those_of_the_exports() -> None:
    layers = {
        layer["name"]: layer["colour"]
        for layer in house_payload(replace(small_house(), trusses=truss_row(1))).house["layers"]
    }
    assert {group.value: colour for group, colour in GROUP_COLOURS.items()}.items() <= layers.items()
    assert set(layers.values()) <= set(OKABE_ITO.values())


def test_findings_lie_with_their_panel_and_the_rest_with_the_house() -> None:
    house = small_house(2)
    here, there = (panel.label for panel in house.panels)
    findings = (
        Finding("run.member", Severity.STOP, "a run meets wood", here, ("a", "b"), (1.0, 2.0, 3.0), (9.0, 9.0, 9.0)),
        Finding("house.wide", Severity.NOTE, "of the whole", "", (), None, (4.0, 5.0, 6.0)),
    )
    payload = house_payload(house, findings)
    (own,) = reading.content(payload, here, "findings")
    assert (own["code"], own["parts"], own["point"]) == ("run.member", ["a", "b"], [1.0, 2.0, 3.0])
    assert reading.content(payload, there, "findings") == []
    (rest,) = json.loads(payload.buffers[payload.house["blocks"][0]["key"]])
    assert (rest["code"], rest["point"]) == ("house.wide", [4.0, 5.0, 6.0])


def test_findings_have_keys_and_stand_under_their_causes() -> None:
    panel = wall_panel()
    stick = panel.members[2].id
    ready = Proposal("move it", (Change(("runs", 0), 1.0, 2.0),))
    first = Finding("bore.edge", Severity.WARN, "too near", panel.label, (stick,), (1.0, 2.0, 3.0), proposal=ready)
    second = replace(first, point=(1.0, 9.0, 3.0), proposal=Proposal("decide"))
    third = Finding("panel.mass", Severity.STOP, "too heavy", panel.label, waived_by="the engineer")
    payload = panel_payload(panel, (third, second, first))
    told = {row["key"]: row for row in reading.content(payload, panel.label, "findings")}
    assert set(told) == {finding_key(finding) for finding in (first, second, third)}
    assert told[finding_key(first)]["proposal"] == {"words": "move it", "ready": True}
    assert told[finding_key(second)]["proposal"] == {"words": "decide", "ready": False}
    assert told[finding_key(third)]["proposal"] is None
    own = next(block["key"] for block in payload.house["blocks"] if block["kind"] == "causes")
    bores, mass = json.loads(payload.buffers[own])
    assert bores["keys"] == [finding_key(first), finding_key(second)]
    assert (bores["severity"], bores["waived"]) == ("warn", "")
    assert panel.members[2].role in bores["words"]
    assert (mass["words"], mass["waived"]) == (f"panel {panel.label}", "the engineer")


def test_a_panel_by_itself_leaves_out_what_is_said_of_others() -> None:
    first, second = small_house(2).panels
    found = [Finding("panel.mass", Severity.WARN, "too heavy", panel.label) for panel in (first, second)]
    of_house = Finding("house.wide", Severity.NOTE, "of the whole")
    payload = panel_payload(first, [*found, of_house])
    assert [row["code"] for row in reading.content(payload, first.label, "findings")] == ["panel.mass"]
    told = {block["kind"]: json.loads(payload.buffers[block["key"]]) for block in payload.house["blocks"]}
    assert [row["code"] for row in told["findings"]] == ["house.wide"]
    assert [cause["words"] for cause in told["causes"]] == [f"panel {first.label}", "the house"]


def test_a_panel_is_packed_once() -> None:
    house = small_house(2)
    packer = kernel_packer()
    first, second = (house_payload(house, (), packer) for _ in range(2))
    assert first == second
    for key, data in first.buffers.items():
        if data != b"[]":
            assert second.buffers[key] is data


def test_equal_models_give_equal_payloads() -> None:
    first, second = (house_payload(small_house()) for _ in range(2))
    assert first == second


def test_message_from_nothing_is_the_whole_payload() -> None:
    payload = house_payload(small_house())
    message = changes(None, payload)
    assert message.size == payload.size
    reader = reading.Reader()
    reader.take(message)
    assert reader.holds(payload)
