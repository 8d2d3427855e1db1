"""Opening a model file: every way it can be unreadable ends in one clear error."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from panelgen.errors import IntakeError
from panelgen.geometry.frames import Floats
from panelgen.intake.records import NotTakenError

__all__ = ["Model", "foreign_data", "open_model"]

_SCHEMAS = ("IFC2X3", "IFC4")
_END = b"END-ISO-10303-21"
_TAIL = 4096
_EXPORT = "export the model again, as IFC2x3 or IFC4"


@dataclass(frozen=True, eq=False)
class Model:
    """An open IFC file. `scale` is mm per length unit of the file; `kernel` holds the mesher's settings."""

    file: Any
    path: Path
    scale: float
    kernel: Any = field(repr=False)

    @property
    def schema(self) -> str:
        """Schema of the file, such as ``IFC2X3``."""
        return str(self.file.schema)

    def placement(self, element: Any) -> Floats:
        """(4, 4) float: the element's placement in house coordinates, translation in mm."""
        from ifcopenshell.util.placement import get_local_placement

        return self.in_millimetres(get_local_placement(element.ObjectPlacement))

    def in_millimetres(self, matrix: Any) -> Floats:
        """(4, 4) float: a placement of the file with its translation in mm."""
        result: Floats = np.array(matrix, dtype=float)
        result[:3, 3] *= self.scale
        return result


def open_model(path: str | Path) -> Model:
    """Open an IFC2x3 or IFC4 file (STEP text).

    Raises IntakeError where ifcopenshell is not installed, or the file is missing, cut short, not IFC,
    or of another schema.
    """
    path = Path(path)
    try:
        import ifcopenshell
        import ifcopenshell.geom
        import ifcopenshell.util.unit
    except ImportError as error:
        remedy = "install it with: pip install 'panelgen[ifc]'"
        raise IntakeError(f"reading IFC needs ifcopenshell, which is not installed; {remedy}") from error
    _refuse_incomplete(path)
    try:
        file = ifcopenshell.open(str(path))
    except (ifcopenshell.Error, OSError, RuntimeError) as error:
        raise IntakeError(f"{path}: this is not a readable IFC file ({error}); {_EXPORT}") from error
    if not str(file.schema).startswith(_SCHEMAS):
        raise IntakeError(f"{path}: the schema {file.schema} is not read; {_EXPORT}")
    kernel = ifcopenshell.geom.settings()
    kernel.set("use-world-coords", True)
    kernel.set("disable-opening-subtractions", True)
    return Model(file, path, _scale(path, file), kernel)


@contextmanager
def foreign_data() -> Iterator[None]:
    """Around the reading of one element: data that breaks the schema ends in NotTakenError, not in a crash.

    Attributes that are missing or of the wrong type surface in ifcopenshell as any of these errors.
    """
    try:
        with np.errstate(divide="raise", invalid="raise"):
            yield
    except NotTakenError:
        raise
    except (ArithmeticError, AssertionError, AttributeError, LookupError, RuntimeError, TypeError, ValueError) as error:
        raise NotTakenError("its data in the model breaks the IFC schema") from error


def _scale(path: Path, file: Any) -> float:
    from ifcopenshell.util.unit import calculate_unit_scale

    try:
        scale = float(calculate_unit_scale(file)) * 1000.0
    except (AttributeError, IndexError, RuntimeError, TypeError) as error:
        raise IntakeError(f"{path}: the length unit of the model cannot be read ({error})") from error
    if not 0.0 < scale < float("inf"):
        raise IntakeError(f"{path}: the length unit of the model is {scale} mm; it must be greater than 0")
    return scale


def _refuse_incomplete(path: Path) -> None:
    try:
        with path.open("rb") as stream:
            stream.seek(0, 2)
            stream.seek(max(0, stream.tell() - _TAIL))
            tail = stream.read()
    except OSError as error:
        raise IntakeError(f"{path}: the file cannot be read: {error.strerror or error}") from error
    if _END not in tail:
        raise IntakeError(f"{path}: this is not a whole IFC file ({_END.decode()} is missing at its end); {_EXPORT}")
