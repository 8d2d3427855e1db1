"""Ways out of findings: the least change of the spec that removes one and brings no other.

Every proposal was designed and checked before it is made. The room lies above design and checks, which it
runs; neither knows of it.
"""

from panelgen.proposals.changes import changed
from panelgen.proposals.search import Solved, decision, is_open, solve_all, way_out
from panelgen.proposals.standing import Standing
from panelgen.proposals.writing import with_changes

__all__ = ["Solved", "Standing", "changed", "decision", "is_open", "solve_all", "way_out", "with_changes"]
