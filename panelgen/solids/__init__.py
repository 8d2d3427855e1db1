"""Parts as solids of the CAD kernel, made once per shape and placed many times.

Nothing here forks: worker processes that use the kernel must be spawned, since a fork after a boolean
hangs.
"""

from panelgen.solids.placed import PlacedSolid, house_solids, located, panel_solids, placement, to_cadquery
from panelgen.solids.prototypes import Prototypes
from panelgen.solids.tessellation import tessellated
from panelgen.solids.verdicts import all_valid, volume_of

__all__ = [
    "PlacedSolid",
    "Prototypes",
    "all_valid",
    "house_solids",
    "located",
    "panel_solids",
    "placement",
    "tessellated",
    "to_cadquery",
    "volume_of",
]
