"""Meshes: closed, oriented, with the corners of the part and as much volume as chords leave."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings

from panelgen.geometry.mitres import tubes_along
from panelgen.meshes import Mesh, MeshStore, panel_meshes, to_trimesh
from panelgen.meshes.bodies import body_mesh
from panelgen.meshes.triangles import chords, triangulated
from panelgen.meshes.tubes import tube_mesh
from panelgen.model import Member, Panel
from panelgen.model.bodies import member_body
from panelgen.model.volumes import member_volume, part_volumes
from panelgen.solids import tessellated
from tests.factories import raked_panel, rectangle, stick, wall_panel
from tests.solids.test_bodies import BENT, CRAMPED, REVERSING, STRAIGHT, WITH_A_BOOLEAN, WITHOUT_A_BOOLEAN
from tests.strategies import bored_sticks, plain_sticks

STICKS = WITHOUT_A_BOOLEAN | WITH_A_BOOLEAN
SAGITTA = 0.25
NEEDS_THE_KERNEL = {
    "bore in a bevel",
    "bores that cross",
    "bore through the narrow face",
    "bore along the grain",
    "bore at a slope in a notch",
    "notch in a bevel",
    "pointed across the thickness",
}


def kernel_is_not_needed(*_: object) -> tuple[np.ndarray, np.ndarray]:
    raise AssertionError("this body can be meshed from its outline")


def mesh_of(member: Member) -> Mesh:
    return body_mesh(member_body(member), lambda: member_volume(member), tessellated)


def assert_closed(mesh: Mesh) -> None:
    """Closed by index and, as a reader of files sees it, by place."""
    for solid in (to_trimesh(mesh), to_trimesh(mesh).process(validate=True)):
        assert solid.is_watertight
        assert solid.is_winding_consistent
        assert solid.volume > 0


def chord_error(member: Member) -> float:
    """Volume that chords may add where they stand for the circles of bores, mm3: two thirds of the sagitta."""
    reach = math.hypot(member.length, member.width, member.thickness)
    return sum(math.pi * bore.diameter * SAGITTA * reach for bore in member.bores)


@pytest.mark.parametrize("name", STICKS)
def test_sticks_are_closed(name: str) -> None:
    member = STICKS[name]
    mesh = mesh_of(member)
    volume = member_volume(member)
    assert_closed(mesh)
    assert mesh.volume == pytest.approx(to_trimesh(mesh).volume, rel=1e-12)
    assert volume * (1 - 1e-6) <= mesh.volume <= volume + chord_error(member) + 1e-6 * volume


@pytest.mark.parametrize("name", STICKS)
def test_only_bodies_that_are_no_prism_need_the_kernel(name: str) -> None:
    asked: list[str] = []

    def kernel(*arguments: object) -> tuple[np.ndarray, np.ndarray]:
        asked.append(name)
        return tessellated(*arguments)

    member = STICKS[name]
    body_mesh(member_body(member), lambda: member_volume(member), kernel)
    assert bool(asked) == (name in NEEDS_THE_KERNEL)


@given(plain_sticks())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_random_cut_and_notched_sticks_are_closed_and_exact(member: Member) -> None:
    assume(to_volume(member) > 100.0)
    mesh = mesh_of(member)
    assert_closed(mesh)
    assert mesh.volume == pytest.approx(member_volume(member), rel=1e-6)


@given(bored_sticks())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_random_bored_sticks_are_closed(member: Member) -> None:
    assume(to_volume(member) > 100.0)
    mesh = mesh_of(member)
    assert_closed(mesh)
    assert abs(mesh.volume - member_volume(member)) <= chord_error(member)


def to_volume(member: Member) -> float:
    """Volume, 0 where the ends leave nothing."""
    corners = member.local_corners()
    return member_volume(member) if (corners[4:, 0] > corners[:4, 0]).any() else 0.0


def test_a_box_has_twelve_triangles_and_its_eight_corners() -> None:
    mesh = mesh_of(stick())
    assert len(mesh.faces) == 12
    assert sorted(map(tuple, mesh.vertices.tolist())) == sorted(map(tuple, stick().local_corners().tolist()))


def test_triangles_keep_every_point_and_edge_of_their_rings() -> None:
    """A point between two others on one line, which many triangulators drop, must stay."""
    outline = np.array([(0.0, 0.0), (5.0, 0.0), (10.0, 0.0), (10.0, 8.0), (0.0, 8.0)])
    hole = np.array(rectangle(2.0, 6.0, 2.0, 5.0))[::-1]
    triangles = triangulated([outline, hole])
    points = np.concatenate((outline, hole))
    a, b, c = (points[triangles[:, k]] for k in range(3))
    areas = ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]) / 2
    edges = {tuple(edge) for t in triangles.tolist() for edge in ((t[0], t[1]), (t[1], t[2]), (t[2], t[0]))}
    assert (areas > 0).all()
    assert areas.sum() == pytest.approx(80.0 - 12.0)
    assert {(0, 1), (1, 2), (2, 3), (3, 4), (4, 0), (5, 6), (6, 7), (7, 8), (8, 5)} <= edges


@pytest.mark.parametrize("radius", [1.0, 8.0, 25.0, 110.0, 500.0])
def test_chords_leave_a_circle_by_no_more_than_the_sagitta(radius: float) -> None:
    assert radius * (1 - math.cos(math.pi / chords(radius))) <= SAGITTA


@pytest.mark.parametrize("path", [STRAIGHT, BENT, REVERSING, CRAMPED], ids=["straight", "bent", "back", "cramped"])
def test_tubes_are_closed_and_as_long_as_their_path(path: tuple[tuple[float, float, float], ...]) -> None:
    meshes = [tube_mesh(tube) for tube in tubes_along(path, 25.0)]
    count = chords(25.0)
    section = count / 2 * 25.0**2 * math.sin(2 * math.pi / count)
    length = sum(math.dist(a, b) for a, b in pairwise(path))
    for mesh in meshes:
        assert_closed(mesh)
    assert sum(mesh.volume for mesh in meshes) == pytest.approx(section * length, rel=1e-9)


@pytest.mark.parametrize("panel", [wall_panel(), raked_panel()], ids=["wall", "raked"])
def test_panels_have_a_closed_mesh_a_part(panel: Panel) -> None:
    parts = panel_meshes(panel, MeshStore(kernel_is_not_needed))
    volumes = dict(part_volumes(panel))
    assert [part.part for part in parts] == list(volumes)
    for part in parts:
        assert_closed(part.mesh)
        assert part.mesh.volume == pytest.approx(volumes[part.part], rel=0.02)


def test_meshes_lie_where_the_members_are() -> None:
    panel = raked_panel()
    here = {part.part: part.mesh for part in panel_meshes(panel, MeshStore(kernel_is_not_needed))}
    there = {part.part: part.mesh for part in panel_meshes(panel, MeshStore(kernel_is_not_needed), panel.frame)}
    for member in panel.members:
        assert here[member.id].vertices.min(axis=0) == pytest.approx(member.corners().min(axis=0), abs=1e-5)
        assert here[member.id].vertices.max(axis=0) == pytest.approx(member.corners().max(axis=0), abs=1e-5)
        assert there[member.id].vertices == pytest.approx(panel.frame.to_parent(here[member.id].vertices))
