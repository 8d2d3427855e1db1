"""Where a viewer's camera stands and looks, and which parts it shows selected. Metres, in house coordinates."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from uuid import UUID
from xml.etree.ElementTree import Element

import numpy as np

from panelgen.export.bcf.elements import branch, leaf
from panelgen.geometry.frames import Vec3, scaled
from panelgen.model.identity import part_global_id, run_global_id
from panelgen.model.palette import OKABE_ITO
from panelgen.review.parts import PartKind, PartName
from panelgen.review.scenes import PanelScene

__all__ = ["visualization"]

_FIELD = 60.0
"""Degrees; the only angle that BCF 2.1 lets every viewer show, with those down to 45."""

_NEAREST = 1800.0
_AROUND = 400.0
_MM_PER_M = 1000.0
_SYSTEM = "panelgen"


def visualization(identity: UUID, house: str, scene: PanelScene, names: Mapping[str, PartName]) -> Element:
    """The ``VisualizationInfo`` element: a camera square to the panel on its weather side, the parts involved
    selected and coloured, everything else as the viewer has it.
    """
    components = [_component(house, scene, names[part]) for part in scene.involved if part in names]
    return branch("VisualizationInfo", (*_components(components), _camera(scene)), {"Guid": str(identity)})


def _component(house: str, scene: PanelScene, name: PartName) -> Mapping[str, str]:
    is_run = name.kind is PartKind.RUN
    guid = run_global_id(house, scene.panel.label, name.id) if is_run else part_global_id(house, name.id)
    return {"guid": guid, "words": name.words}


def _components(components: list[Mapping[str, str]]) -> Iterator[Element]:
    if not components:
        return

    def elements() -> Iterator[Element]:
        for one in components:
            said = (leaf("OriginatingSystem", _SYSTEM), leaf("AuthoringToolId", one["words"]))
            yield branch("Component", said, {"IfcGuid": one["guid"]})

    colour = "{:02X}{:02X}{:02X}".format(*OKABE_ITO["vermillion"])
    yield branch(
        "Components",
        (
            branch("Selection", elements()),
            branch("Visibility", (), {"DefaultVisibility": "true"}),
            branch("Coloring", (branch("Color", elements(), {"Color": colour}),)),
        ),
    )


def _camera(scene: PanelScene) -> Element:
    """In front of the middle of the spots, or of the panel, as far off as shows all of them and a little around."""
    low, high = _seen(scene)
    reach = max(high[0] - low[0], high[1] - low[1]) / 2 + _AROUND
    x, y = (low[0] + high[0]) / 2, (low[1] + high[1]) / 2
    distance = max(_NEAREST, reach / math.tan(math.radians(_FIELD / 2)))
    frame = scene.panel.frame
    return branch(
        "PerspectiveCamera",
        (
            _vector("CameraViewPoint", scaled(frame.point(x, y, high[2] + distance), 1 / _MM_PER_M)),
            _vector("CameraDirection", scaled(frame.z, -1.0)),
            _vector("CameraUpVector", frame.y),
            leaf("FieldOfView", _text(_FIELD)),
        ),
    )


def _seen(scene: PanelScene) -> tuple[Vec3, Vec3]:
    """Least and greatest panel coordinates of what is looked at."""
    panel = scene.panel
    points = [point for _, point in scene.points] or [(0.0, 0.0, 0.0), (panel.length, panel.height, panel.depth[1])]
    low, high = np.min(points, axis=0), np.max(points, axis=0)
    return (float(low[0]), float(low[1]), float(low[2])), (float(high[0]), float(high[1]), float(high[2]))


def _vector(tag: str, vector: Vec3) -> Element:
    return branch(tag, (leaf(axis, _text(value)) for axis, value in zip("XYZ", vector, strict=True)))


def _text(value: float) -> str:
    return f"{round(value, 6) + 0.0:.6f}".rstrip("0").rstrip(".")
