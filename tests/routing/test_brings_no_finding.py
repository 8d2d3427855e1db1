"""The proof of a route: with its run in the spec, the house designed and checked anew has no finding more."""

from __future__ import annotations

from hypothesis import assume, given, settings

from panelgen import api
from tests.routing.sketches import Sketch, sketches


@settings(max_examples=60, deadline=None, derandomize=True)
@given(sketch=sketches())
def test_a_route_brings_no_finding(sketch: Sketch) -> None:
    house = api.design(sketch.spec)
    assume(sketch.request.start != sketch.request.end)
    route = api.route(house, sketch.request)
    if not route.found:
        assert route.reasons
        return
    ends = (sketch.request.start[:2], sketch.request.end[:2])
    assert [(round(x, 3), round(y, 3)) for x, y, _ in (route.points[0], route.points[-1])] == list(ends)
    assert api.new_findings(sketch.spec, api.check(house), route) == ()
