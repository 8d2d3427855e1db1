"""Sheathing: faces of panels covered with sheets cut from stock."""
