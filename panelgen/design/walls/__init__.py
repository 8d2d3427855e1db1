"""Walls in plan: lines, corners and tees, and which opening and layer falls in which panel."""
