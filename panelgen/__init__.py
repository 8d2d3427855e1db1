"""Off-site wood wall panels: from a house spec to checked panels and models for review.

The verbs, each a plain function: `load`, `read_ifc`, `design`, `check`, `build`. They are imported on
first use, so ``import panelgen`` costs nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from panelgen.api import build, check, design, load, read_ifc

__all__ = ["__version__", "build", "check", "design", "load", "read_ifc"]

__version__ = "0.1.0"


def __getattr__(name: str) -> Any:
    if name in __all__:
        return getattr(import_module("panelgen.api"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def __dir__() -> list[str]:
    return __all__
