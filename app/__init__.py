"""Bevelbook: a local web app that runs a home picture-framing business."""

__version__ = "0.1.0"
