"""Drawings as SVG: a piece from the front, measured, in section, on a wall, each mat, its marks; a cutter; how a step is done.

Pure: a piece's dimensions go in, the text of an SVG comes out. Coordinates are floats in
millimetres; every figure written on a drawing comes from the exact length.
"""

from app.colours import Colour
from app.drawings.canvas.canvas import to_one_scale, view_of
from app.drawings.canvas.notes import NotedDrawing
from app.drawings.cutter import CUTTER_KEY, cutter_from_above
from app.drawings.how_to.table import how_to
from app.drawings.mats.back_marks import back_marks
from app.drawings.mats.plan import mat_plan
from app.drawings.piece.appearance import Finish, FrameLook, Look
from app.drawings.piece.front import FrontView, front, hung
from app.drawings.piece.measured import measured, measured_for_a_phone
from app.drawings.section.section import section
from app.drawings.wall.wall import HungPiece, above_a_sofa, on_a_wall

__all__ = [
    "CUTTER_KEY",
    "Colour",
    "Finish",
    "FrameLook",
    "FrontView",
    "HungPiece",
    "Look",
    "NotedDrawing",
    "above_a_sofa",
    "back_marks",
    "cutter_from_above",
    "front",
    "how_to",
    "hung",
    "mat_plan",
    "measured",
    "measured_for_a_phone",
    "on_a_wall",
    "section",
    "to_one_scale",
    "view_of",
]
