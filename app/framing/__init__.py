"""A piece: artwork, presentation, mats, windows and frames, and every dimension that follows.

Pure arithmetic by the handbook's rules G (geometry) and D (depth and weight). It knows no prices,
no customers and no cutter, reads nothing and writes nothing.
"""

from app.framing.arrangement import (
    MOST_WINDOWS,
    Align,
    Arrangement,
    Opening,
    Point,
    Shape,
    Slot,
    rows_of,
    window_letter,
)
from app.framing.derivation import work_out
from app.framing.dimensions import Dimensions, FrameSizes, Gaps, Layer, frame_around
from app.framing.fillets import FilletRails, FilletSizes
from app.framing.notice import Concern, Notice
from app.framing.profile_shapes import ProfileShape
from app.framing.rounding import in_steps
from app.framing.snapping import Snapped, snapped_up
from app.framing.spec import (
    DEFAULTS,
    Bevel,
    Defaults,
    Edges,
    Fillet,
    Frame,
    Mat,
    ObjectInBox,
    Panel,
    Presentation,
    Spacer,
    Spec,
    UnderMats,
    UnderWay,
)
from app.framing.windows import Fallout, Groove, Window, mirrored

__all__ = [
    "DEFAULTS",
    "MOST_WINDOWS",
    "Align",
    "Arrangement",
    "Bevel",
    "Concern",
    "Defaults",
    "Dimensions",
    "Edges",
    "Fallout",
    "Fillet",
    "FilletRails",
    "FilletSizes",
    "Frame",
    "FrameSizes",
    "Gaps",
    "Groove",
    "Layer",
    "Mat",
    "Notice",
    "ObjectInBox",
    "Opening",
    "Panel",
    "Point",
    "Presentation",
    "ProfileShape",
    "Shape",
    "Slot",
    "Snapped",
    "Spacer",
    "Spec",
    "UnderMats",
    "UnderWay",
    "Window",
    "frame_around",
    "in_steps",
    "mirrored",
    "rows_of",
    "snapped_up",
    "window_letter",
    "work_out",
]
