"""Insulated bays: what sticks leave empty of a panel, and what fills it."""
