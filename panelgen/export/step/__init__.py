"""STEP files (ISO 10303-21, schema AP214): written with shared shapes, and read again to be proven."""

from panelgen.export.step.reading import RereadSolid, reread_step
from panelgen.export.step.writing import write_step

__all__ = ["RereadSolid", "reread_step", "write_step"]
