"""Room in and behind device boxes: what they hold, and the clear depth at their back."""

from __future__ import annotations

from panelgen.catalog import Catalog
from panelgen.checks.codes import found
from panelgen.checks.scene import Scene
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Box, Finding, LayerKind, Panel

__all__ = ["box_room"]

_HAIR = 1e-6
_MM3_PER_IN3 = 25.4**3


def box_room(scene: Scene, catalog: Catalog) -> list[Finding]:
    """One finding for each box that holds too much, and for each with less room behind it than is asked for."""
    findings = []
    for panel in scene.panels:
        for box in panel.boxes:
            if box.volume > 0.0 and box.fill > box.volume * (1.0 + _HAIR):
                product = catalog.boxes.get(box.product)
                findings.append(
                    found(
                        "box.fill",
                        panel,
                        parts=(box.id,),
                        point=_middle(box),
                        value=box.fill / _MM3_PER_IN3,
                        limit=box.volume / _MM3_PER_IN3,
                        unit="in³",
                        source=product.cited if product else box.why.source,
                        box=box.id,
                    )
                )
            room = _room_behind(panel, box)
            if box.back - room > TOLERANCE:
                findings.append(
                    found(
                        "box.back",
                        panel,
                        parts=(box.id,),
                        point=box.frame.point(box.size[0] / 2, box.size[1] / 2, 0.0),
                        value=max(0.0, room),
                        limit=box.back,
                        source=f"spec boxes {box.id}: back",
                        box=box.id,
                    )
                )
    return findings


def _middle(box: Box) -> tuple[float, float, float]:
    width, height, depth = box.size
    return box.frame.point(width / 2, height / 2, depth / 2)


def _room_behind(panel: Panel, box: Box) -> float:
    """From the back of a box to the next sheathing toward the weather, or through the framing where there is none."""
    back = box.frame.origin[2]
    ahead = [layer.z0 for layer in panel.layers if layer.kind is LayerKind.SHEATHING and layer.z1 > back + TOLERANCE]
    return min(ahead, default=panel.framing.z1) - back
