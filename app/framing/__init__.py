"""A piece: artwork, presentation, mats, windows and frames, and every dimension that follows.

Pure arithmetic by the handbook's rules G (geometry) and D (depth and weight). It knows no prices,
no customers and no cutter, reads nothing and writes nothing.
"""

from app.framing.dimensions import Dimensions, FrameSizes, Layer, Window, frame_around
from app.framing.notice import Concern, Notice
from app.framing.spec import (
    DEFAULTS,
    Bevel,
    Defaults,
    Edges,
    Frame,
    Mat,
    Panel,
    Presentation,
    Spacer,
    Spec,
    UnderMats,
    UnderWay,
)
from app.framing.steps import in_steps
from app.framing.working import work_out

__all__ = [
    "DEFAULTS",
    "Bevel",
    "Concern",
    "Defaults",
    "Dimensions",
    "Edges",
    "Frame",
    "FrameSizes",
    "Layer",
    "Mat",
    "Notice",
    "Panel",
    "Presentation",
    "Spacer",
    "Spec",
    "UnderMats",
    "UnderWay",
    "Window",
    "frame_around",
    "in_steps",
    "work_out",
]
