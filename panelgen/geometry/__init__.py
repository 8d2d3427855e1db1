"""Shapes as numbers: frames, prisms, convex bodies, rods, and the distances between them."""
