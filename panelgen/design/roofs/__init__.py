"""Roofs: planes over a footprint, their split into panels, and in each panel every part.

Panels meet at plumb planes only: at ridges, hips and valleys in the plumb plane through the line, between
rafters in a plumb plane up the slope. Each panel has a plumb board of its own on its side of such a plane,
so neighbours touch and never overlap, and each can be lowered straight down beside one already set.
"""
