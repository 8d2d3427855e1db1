"""What is wrong with a designed panel or house: findings, worst first. Checks report; they never repair.

`codes` lists all that they can find.
"""

from panelgen.checks.checking import check_house, check_panel, check_panels
from panelgen.checks.code import Code
from panelgen.checks.codes import CODES
from panelgen.checks.waivers import apply_waivers

__all__ = ["CODES", "Code", "apply_waivers", "check_house", "check_panel", "check_panels"]
