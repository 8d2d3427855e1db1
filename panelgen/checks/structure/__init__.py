"""Structure by table: studs, headers, spans, bearing and the way of point loads down to the foundation."""

from panelgen.checks.structure.looking import structure_of_house, structure_of_panels

__all__ = ["structure_of_house", "structure_of_panels"]
