"""From what is asked (spec) to what will be built (model)."""

from panelgen.design.house import design

__all__ = ["design"]
