"""Structure by table: studs, headers, spans, bearing and the way of point loads down to the foundation."""

from panelgen.checks.structure.looking import structure

__all__ = ["structure"]
