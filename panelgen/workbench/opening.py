"""The verb of the workbench: a spec to work on, in a notebook."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from panelgen.view.themes import Theme
from panelgen.workbench.session import Session

if TYPE_CHECKING:
    from panelgen.workbench.bench import Workbench

__all__ = ["workbench"]


def workbench(spec: Session | Path | str, *, file: str = "", height: int = 660, theme: Theme = "light") -> Workbench:
    """A workbench for the spec in a file, or for a session that was begun before, `height` pixels high.

    `file` is where the spec is saved unless a person says otherwise: by default beside the one that was read.
    Raises SpecError with every problem of the spec.
    """
    from panelgen.workbench.bench import Workbench

    session = spec if isinstance(spec, Session) else Session.open(spec)
    return Workbench(session, file=file or _beside(session.document.name), height=height, theme=theme)


def _beside(name: str) -> str:
    read = Path(name or "house.yaml")
    return str(read.with_name(f"{read.stem}-edited{read.suffix}"))
