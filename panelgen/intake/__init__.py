"""Reads a building model into a house spec that a person can edit (IFC2x3 and IFC4)."""

from panelgen.errors import IntakeError
from panelgen.intake.reader import read_ifc
from panelgen.intake.records import Counts, Intake, Left, Taken

__all__ = ["Counts", "Intake", "IntakeError", "Left", "Taken", "read_ifc"]
