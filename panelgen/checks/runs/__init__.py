"""Runs of services: against wood, sheets, openings, one another and the rules of their trades."""
