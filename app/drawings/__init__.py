"""Drawings of a piece as SVG: from the front, measured, in section, each mat, and its marks.

Pure: a piece's dimensions go in, the text of an SVG comes out. Coordinates are floats in
millimetres; every figure written on a drawing comes from the exact length.
"""

from app.drawings.backmarks import back_marks
from app.drawings.colours import Colour
from app.drawings.front import View, front
from app.drawings.look import Finish, FrameLook, Look
from app.drawings.mats import mat_plan
from app.drawings.measured import measured
from app.drawings.section import section

__all__ = [
    "Colour",
    "Finish",
    "FrameLook",
    "Look",
    "View",
    "back_marks",
    "front",
    "mat_plan",
    "measured",
    "section",
]
