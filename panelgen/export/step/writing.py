"""Writing a STEP file: one flat assembly, each distinct solid once, each part an occurrence with its mark."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from panelgen.errors import ExportError
from panelgen.export.step.canonical import canonical_step
from panelgen.files import whole_file
from panelgen.model.palette import Rgb
from panelgen.solids import PlacedSolid, placement
from panelgen.solids.sessions import kernel_session

__all__ = ["write_step"]

_INTEGERS = {"write.surfacecurve.mode": 0, "write.step.assembly": 2}  # no curves in surface parameters
_WORDS = {"write.step.schema": "AP214IS", "write.step.unit": "MM"}


def write_step(path: Path | str, name: str, solids: Iterable[PlacedSolid]) -> None:
    """Write `solids` to `path` as the assembly `name`; equal input gives equal bytes.

    Occurrences carry the part's name, solids the colour of their group. AP214 is written because every
    CAD system reads it and nothing here needs more. Raises ExportError where the file cannot be written
    or there is nothing to write; an earlier file then stays as it was.
    """
    with whole_file(path) as scratch, kernel_session(_INTEGERS, _WORDS):
        document, colours = _document(name, solids)
        if not colours:
            raise ExportError(f"{path}: there is no solid to write")
        _translate(document, scratch)
        scratch.write_bytes(canonical_step(scratch.read_bytes(), name, colours))


def _document(name: str, solids: Iterable[PlacedSolid]) -> tuple[Any, list[Rgb]]:
    """The kernel's document, and the colour of each distinct solid in the order of first use."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Copy
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    root = tool.NewShape()
    _call(root, name)
    labels: dict[tuple[int, Rgb], Any] = {}
    drawn: set[int] = set()
    colours: list[Rgb] = []
    kept = list(solids)  # holds the shapes, whose identities are the keys
    for solid in kept:
        key = (id(solid.shape), solid.colour)
        label = labels.get(key)
        if label is None:
            shape = BRepBuilderAPI_Copy(solid.shape).Shape() if key[0] in drawn else solid.shape
            drawn.add(key[0])
            label = labels[key] = tool.AddShape(shape, False)
            _call(label, f"{solid.group} {len(labels)}")
            colours.append(solid.colour)
        _call(tool.AddComponent(root, label, placement(solid.frame)), solid.name)
    tool.UpdateAssemblies()
    return document, colours


def _call(label: Any, name: str) -> None:
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name

    TDataStd_Name.Set_s(label, TCollection_ExtendedString(name, True))


def _translate(document: Any, path: Path) -> None:
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_StepModelType

    writer = STEPCAFControl_Writer()
    writer.SetNameMode(True)
    writer.SetColorMode(False)
    writer.SetLayerMode(False)
    writer.SetPropsMode(False)
    if not writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs):
        raise ExportError(f"the kernel cannot translate the model for {path}")
    if writer.Write(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise ExportError(f"the kernel cannot write {path}")
