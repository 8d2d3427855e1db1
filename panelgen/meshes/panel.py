"""The meshes of a panel and of supplied trusses, one closed mesh a part."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial

from panelgen.geometry.frames import WORLD, Frame
from panelgen.geometry.lofts import Body
from panelgen.geometry.mitres import Tube
from panelgen.meshes.bodies import Tessellate, body_mesh
from panelgen.meshes.mesh import Mesh, PartMesh, joined
from panelgen.meshes.tubes import tube_mesh
from panelgen.model.bodies import block_body, member_body, sheet_body
from panelgen.model.groups import PartGroup, layer_groups
from panelgen.model.panel import Panel
from panelgen.model.pieces import Piece, fitting_pieces, run_pieces
from panelgen.model.truss_bodies import truss_body, truss_frame, truss_volume
from panelgen.model.trusses import Truss
from panelgen.model.volumes import box_volume, member_volume, sheet_volume

__all__ = ["MeshStore", "panel_meshes", "truss_meshes"]


class MeshStore:
    """Meshes of bodies, each made once. Keep one for a house, so that equal sticks are meshed once.

    `tessellate` makes the few bodies that only a CAD kernel can cut, such as a stick with a bore that
    breaks an edge at an angle.
    """

    def __init__(self, tessellate: Tessellate) -> None:
        self._tessellate = tessellate
        self._meshes: dict[Body, Mesh] = {}

    def mesh(self, body: Body, volume: Callable[[], float]) -> Mesh:
        """The mesh of a body in its own coordinates; `volume` (mm3) is asked if the kernel must cut it."""
        found = self._meshes.get(body)
        if found is None:
            found = self._meshes[body] = body_mesh(body, volume, self._tessellate)
        return found


def panel_meshes(panel: Panel, store: MeshStore, within: Frame = WORLD) -> list[PartMesh]:
    """Meshes of all members, sheets, runs, fittings and boxes, in that order, in panel coordinates.

    With the panel's frame as `within` they are in house coordinates. Raises GeometryError where a part
    has no shape.
    """
    groups = layer_groups(panel)
    parts = [
        PartMesh(
            member.id,
            member.mark,
            groups[member.layer],
            store.mesh(member_body(member), partial(member_volume, member)).placed(within.compose(member.frame)),
        )
        for member in panel.members
    ]
    parts += [
        PartMesh(
            sheet.id,
            sheet.mark,
            groups[sheet.layer],
            store.mesh(sheet_body(sheet), partial(sheet_volume, sheet)).placed(within.compose(sheet.frame)),
        )
        for sheet in panel.sheets
    ]
    services = [(run.id, run_pieces(run)) for run in panel.runs]
    services += [(fitting.id, fitting_pieces(fitting)) for fitting in panel.fittings]
    for part, pieces in services:
        if pieces:
            mesh = joined([_piece_mesh(piece, store) for piece in pieces])
            parts.append(PartMesh(part, "", PartGroup.SERVICES, mesh.placed(within)))
    for box in panel.boxes:
        mesh = store.mesh(block_body(*box.size), partial(box_volume, box))
        parts.append(PartMesh(box.id, "", PartGroup.SERVICES, mesh.placed(within.compose(box.frame))))
    return parts


def truss_meshes(trusses: Iterable[Truss], store: MeshStore) -> list[PartMesh]:
    """Meshes of supplied trusses as they are shown, in house coordinates."""
    return [
        PartMesh(
            truss.id,
            "",
            PartGroup.TRUSSES,
            store.mesh(truss_body(truss), partial(truss_volume, truss)).placed(truss_frame(truss)),
        )
        for truss in trusses
    ]


def _piece_mesh(piece: Piece, store: MeshStore) -> Mesh:
    if isinstance(piece, Tube):
        return tube_mesh(piece)
    return store.mesh(piece.body, piece.volume).placed(piece.frame)
