"""Nails and screws: where sticks, straps and sheets meet, and the schedule that says how each joint is nailed."""
