"""From what is asked (spec) to what will be built (model)."""

from panelgen.design.house import catalog_for, design

__all__ = ["catalog_for", "design"]
