"""Bevelbook: a local web app that runs a home picture-framing business."""

from datetime import date

__version__ = "0.2.0"

BUILT = date(2026, 11, 1)
"""The first of the month in which this version was made: no clock that shows an earlier day is right."""
