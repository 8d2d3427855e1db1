"""Flat pictures: one drawing of shapes on a page, composed from the model and written as SVG or PNG."""
