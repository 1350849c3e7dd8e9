"""Quiet colours of walls, for a look at a piece before somebody knows the customer's own. All are our own choice."""

from enum import StrEnum

from app.colours import Colour


class WallColour(StrEnum):
    """The walls that are named."""

    CHALK = "chalk"
    OAT = "oat"
    CLAY = "clay"
    GREY_GREEN = "grey-green"
    GREY_BLUE = "grey-blue"
    MOSS = "moss"
    INK_BLUE = "ink-blue"
    GRAPHITE = "graphite"


WALL_COLOURS = {
    WallColour.CHALK: ("Chalk white", Colour.parse("#efebe2")),
    WallColour.OAT: ("Oat", Colour.parse("#ddd2bd")),
    WallColour.CLAY: ("Pale clay", Colour.parse("#d5b5a2")),
    WallColour.GREY_GREEN: ("Grey green", Colour.parse("#bcc4b3")),
    WallColour.GREY_BLUE: ("Grey blue", Colour.parse("#b3c0c8")),
    WallColour.MOSS: ("Moss", Colour.parse("#66725a")),
    WallColour.INK_BLUE: ("Ink blue", Colour.parse("#384a60")),
    WallColour.GRAPHITE: ("Graphite", Colour.parse("#4c4c4e")),
}
"""What each is called, and its colour."""

USUAL_WALL = WallColour.GREY_GREEN
