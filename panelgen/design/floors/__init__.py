"""Floors and ceilings: an outline becomes cassettes of joists, rims and decking, each one panel."""
