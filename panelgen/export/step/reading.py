"""Reading a STEP file again, to prove what was written."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from panelgen.errors import ExportError
from panelgen.model.palette import Rgb
from panelgen.solids import all_valid, volume_of
from panelgen.solids.sessions import kernel_session

__all__ = ["RereadSolid", "reread_step"]


@dataclass(frozen=True, slots=True)
class RereadSolid:
    """One occurrence in a STEP file: its name, whether the kernel finds it valid, its volume, mm3.

    `colour` is 8-bit sRGB, None where the file gives none; `shape` is the kernel shape in its place.
    Volume is negative for a solid that is mirrored or inside out.
    """

    name: str
    is_valid: bool
    volume: float
    colour: Rgb | None
    shape: Any


def reread_step(path: Path | str) -> tuple[str, list[RereadSolid]]:
    """The name of the assembly in a STEP file, and its occurrences in the order of the file.

    Raises ExportError if the file cannot be read or does not hold exactly one assembly.
    """
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDF import TDF_LabelSequence
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

    document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
    with kernel_session():
        _read_into(document, path)
    roots, parts = TDF_LabelSequence(), TDF_LabelSequence()
    XCAFDoc_DocumentTool.ShapeTool_s(document.Main()).GetFreeShapes(roots)
    if roots.Length() != 1:
        raise ExportError(f"{path}: {roots.Length()} assemblies where one was expected")
    XCAFDoc_ShapeTool.GetComponents_s(roots.Value(1), parts, False)
    judge = _Judge(XCAFDoc_DocumentTool.ColorTool_s(document.Main()))
    return _name(roots.Value(1)), [judge.occurrence(parts.Value(k)) for k in range(1, parts.Length() + 1)]


class _Judge:
    """Verdicts on shapes, each distinct one judged once."""

    def __init__(self, colours: Any) -> None:
        self._colours = colours
        self._known: dict[str, tuple[bool, float, Rgb | None]] = {}

    def occurrence(self, label: Any) -> RereadSolid:
        from OCP.TCollection import TCollection_AsciiString
        from OCP.TDF import TDF_Label, TDF_Tool
        from OCP.XCAFDoc import XCAFDoc_ShapeTool

        prototype, entry = TDF_Label(), TCollection_AsciiString()
        XCAFDoc_ShapeTool.GetReferredShape_s(label, prototype)
        TDF_Tool.Entry_s(prototype, entry)
        key = entry.ToCString()
        if key not in self._known:
            shape = XCAFDoc_ShapeTool.GetShape_s(prototype)
            self._known[key] = (all_valid((shape,)), volume_of(shape), self._colour(prototype))
        valid, volume, colour = self._known[key]
        shape = XCAFDoc_ShapeTool.GetShape_s(label)
        mirrored = shape.Location().Transformation().IsNegative()
        return RereadSolid(_name(label), valid, -volume if mirrored else volume, colour, shape)

    def _colour(self, label: Any) -> Rgb | None:
        from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
        from OCP.XCAFDoc import XCAFDoc_ColorTool, XCAFDoc_ColorType

        colour = Quantity_Color()
        if not XCAFDoc_ColorTool.GetColor_s(label, XCAFDoc_ColorType.XCAFDoc_ColorSurf, colour):
            return None
        red, green, blue = (round(255 * level) for level in colour.Values(Quantity_TypeOfColor.Quantity_TOC_sRGB))
        return (red, green, blue)


def _read_into(document: Any, path: Path | str) -> None:
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.STEPCAFControl import STEPCAFControl_Reader

    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    if reader.ReadFile(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone or not reader.Transfer(document):
        raise ExportError(f"{path}: the kernel cannot read it")


def _name(label: Any) -> str:
    from OCP.TDataStd import TDataStd_Name

    attribute = TDataStd_Name()
    return attribute.Get().ToExtString() if label.FindAttribute(TDataStd_Name.GetID_s(), attribute) else ""
