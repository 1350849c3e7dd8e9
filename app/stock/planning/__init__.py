"""Cutting plans of open work: its parts, the problems put to a planner, and the plans that are kept."""
