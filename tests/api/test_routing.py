"""Routes through the verbs: found, proven in the whole house, written into a spec."""

from __future__ import annotations

from pathlib import Path

import pytest

from panelgen import api
from panelgen.errors import BadValueError
from panelgen.spec import HouseSpec
from tests import specs

REQUEST = api.RouteRequest(
    "power", (900.0, 300.0, "cavity"), (2300.0, 450.0, "cavity"), "nm-12/2", None, "north", run="R1"
)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "house.yaml"
    path.write_text(specs.clean(), encoding="utf-8")
    return path


def found(spec: HouseSpec, **changes: object) -> api.Route:
    fields = {name: getattr(REQUEST, name) for name in REQUEST.__slots__} | changes
    return api.route(api.design(spec), api.RouteRequest(**fields))


def test_a_route_is_found_and_brings_no_finding(file: Path) -> None:
    spec = api.load(file)
    route = found(spec)
    assert (route.found, route.bends, route.length) == (True, 1, pytest.approx(1550.0))
    assert api.new_findings(spec, api.check(api.design(spec)), route) == ()


def test_what_a_run_would_bring_is_told(file: Path) -> None:
    spec = api.load(file)
    route = found(spec)
    through = tuple((x, y, 0.0) for x, y, _ in route.points)
    moved = api.Route(route.request, route.wall, through, route.house_points, through)
    codes = {finding.code for finding in api.new_findings(spec, api.check(api.design(spec)), moved)}
    assert "barrier.pierced" in codes


def test_the_run_is_written_and_the_rest_stays(file: Path, tmp_path: Path) -> None:
    spec = api.load(file)
    route = found(spec)
    api.write_run(file, tmp_path / "out.yaml", route)
    before, after = file.read_text(encoding="utf-8"), (tmp_path / "out.yaml").read_text(encoding="utf-8")
    assert [line for line in before.splitlines() if line not in after.splitlines()] == []
    new = api.load(tmp_path / "out.yaml")
    assert new.runs[:-1] == spec.runs
    assert new.runs[-1].id == "R1"
    assert new.runs[-1].path == tuple(
        (pytest.approx(x, abs=1e-3), pytest.approx(y, abs=1e-3), z) for x, y, z in route.path
    )


def test_a_run_that_is_there_is_led_anew(file: Path, tmp_path: Path) -> None:
    spec = api.load(file)
    route = found(spec, run="outlet-feed", wall="south")
    assert api.new_findings(spec, api.check(api.design(spec)), route) == ()
    api.write_run(file, tmp_path / "out.yaml", route)
    (run,) = api.load(tmp_path / "out.yaml").runs
    assert run.id == "outlet-feed"
    assert len(run.path) == len(route.path) == 3


def test_line_ends_stay_as_they_are(file: Path, tmp_path: Path) -> None:
    file.write_bytes(specs.clean().replace("\n", "\r\n").encode())
    api.write_run(file, tmp_path / "out.yaml", found(api.load(file)))
    written = (tmp_path / "out.yaml").read_bytes()
    assert written.count(b"\n") == written.count(b"\r\n")


def test_the_spec_itself_is_not_written_over(file: Path) -> None:
    route = found(api.load(file))
    with pytest.raises(BadValueError, match="is the house spec itself"):
        api.write_run(file, file, route)


def test_nothing_is_written_without_a_route(file: Path, tmp_path: Path) -> None:
    route = found(api.load(file), system="supply air", size="duct-4")
    with pytest.raises(BadValueError, match="there is no route"):
        api.write_run(file, tmp_path / "out.yaml", route)
    assert not (tmp_path / "out.yaml").exists()
