"""Ground truth for the checks: random panels without a fault, and faults of many kinds planted in them.

Places are found here by plain intervals of stick extents, with margins of their own: nothing of the checks
is asked where a run may be.
"""
