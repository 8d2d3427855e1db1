"""Roof panels as solids of an independent kernel, in the house."""

from __future__ import annotations

import manifold3d
import numpy as np

from panelgen.checks.blocks import stick_blocks
from panelgen.model import Member, Panel, Sheet

__all__ = ["overlap", "panel_solid", "stick_solid"]


def stick_solid(member: Member, panel: Panel) -> manifold3d.Manifold:
    """A stick with its cuts and notches."""
    blocks = [panel.frame.to_parent(member.frame.to_parent(block)) for block in stick_blocks(member)]
    parts = [manifold3d.Manifold.hull_points(block) for block in blocks]
    return manifold3d.Manifold.batch_boolean(parts, manifold3d.OpType.Add)


def sheet_solid(sheet: Sheet, panel: Panel) -> manifold3d.Manifold:
    """A sheet with its cut-outs."""
    rings = [np.array(ring) for ring in (sheet.outline, *sheet.cutouts)]
    flat = manifold3d.CrossSection(rings, manifold3d.FillRule.EvenOdd)
    frame = panel.frame.compose(sheet.frame)
    place = np.column_stack((frame.axes.T, frame.origin))
    return manifold3d.Manifold.extrude(flat, sheet.thickness).transform(place)


def panel_solid(panel: Panel) -> manifold3d.Manifold:
    """All sticks and sheets of a panel."""
    parts = [stick_solid(member, panel) for member in panel.members]
    parts += [sheet_solid(sheet, panel) for sheet in panel.sheets]
    return manifold3d.Manifold.batch_boolean(parts, manifold3d.OpType.Add)


def overlap(a: manifold3d.Manifold, b: manifold3d.Manifold) -> float:
    """Volume that two solids share, mm3; faces that touch share rounding only."""
    return float((a ^ b).volume())
