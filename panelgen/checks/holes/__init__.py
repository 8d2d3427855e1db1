"""Holes and notches in sticks against the rule set."""
