"""Off-site wood wall panels: from a house spec to checked panels and models for review.

The verbs are in `panelgen.api`: `load`, `read_ifc`, `design`, `check`, `build`. This package imports
nothing by itself, so ``import panelgen`` costs nothing. (`panelgen.design` is the room where the design
is made, which is why the verb of that name is not offered here.)
"""

from __future__ import annotations

__all__ = ["__version__"]

__version__ = "0.1.0"
