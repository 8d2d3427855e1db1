"""The workbench: a spec is turned, and its panels, findings and figures follow at once.

    workbench("house.yaml")                      in a notebook
    session = Session.open("house.yaml")         the same without widgets

Nothing here needs a notebook until a workbench is made.
"""

from panelgen.workbench.opening import workbench
from panelgen.workbench.session import Change, Session

__all__ = ["Change", "Session", "workbench"]
