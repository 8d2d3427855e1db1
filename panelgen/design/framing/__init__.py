"""Framing of walls: studs, plates, openings and blocking, from the most to the least constrained."""
