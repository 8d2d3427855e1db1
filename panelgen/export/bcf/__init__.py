"""Findings as a BCF 2.1 file (buildingSMART's open standard), so that any viewer jumps to the spot."""

from panelgen.export.bcf.archive import write_bcf

__all__ = ["write_bcf"]
