"""Parts of a spec that are turned as one, and their controls."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import BaseModel

from panelgen.catalog import Catalog
from panelgen.spec import HouseSpec
from panelgen.spec.lines import Path
from panelgen.workbench.fields import Control, Reach, controls_of, length_control
from panelgen.workbench.options import options_in

__all__ = ["Controls", "Thing"]


@dataclass(frozen=True, slots=True)
class Thing:
    """A part of the spec that is turned as one. `note` says what else follows it."""

    id: str
    title: str
    controls: tuple[Control, ...]
    note: str = ""


class Controls:
    """Makes the controls of a spec, in its unit, with the products of a catalog to choose from."""

    def __init__(self, spec: HouseSpec, catalog: Catalog) -> None:
        self._unit, self._options = spec.unit, options_in(spec, catalog)

    def of(self, model: BaseModel, path: Path, reach: Reach | None = None) -> tuple[Control, ...]:
        """Those of a model at a path; `reach` says how far the sliders of its lengths go."""
        return tuple(controls_of(model, path, self._unit, self._options, reach or {}))

    def length(
        self, paths: tuple[Path, ...], label: str, value: float, reach: tuple[float, float] | None = None
    ) -> Control:
        """One for a length that is no field of a model by itself."""
        return length_control(paths, label, value, self._unit, reach=reach)
