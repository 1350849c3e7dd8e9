"""An example for each length of a piece, for the sentence that asks for it.

What a shop usually takes is the handbook's own default; the rest is common practice in round figures.
"""

from app.framing import DEFAULTS
from app.lengths import Example, Examples, Length, Size, Unit, inches, mm


def _usual(name: str) -> Example:
    def of(unit: Unit) -> Length:
        length: Length = getattr(DEFAULTS[unit], name)
        return length

    return Example.of(of)


_BORDER = Example(mm(60), inches("5/2"))
_BETWEEN = Example(mm(40), inches("3/2"))

OBJECT_HEIGHT = Example(mm(40), inches("3/2"))
"""What stands in a box is not as thin as what lies flat."""

PIECE_EXAMPLES: Examples = {
    "artwork.thickness": Example(mm("0.3"), inches("1/64")),
    "overlap": _usual("overlap"),
    "gap": _usual("gap"),
    "mats.reveal": _usual("reveal"),
    **{f"borders.{side}": _BORDER for side in ("left", "right", "top", "bottom")},
    "weighting": Example(mm(10), inches("3/8")),
    "layout.across": _BETWEEN,
    "layout.down": _BETWEEN,
    "windows.edge": _usual("overlap"),
    "windows.rise": _BORDER,
    "windows.slot": Example(Size(mm(60), mm(12)), Size(inches("5/2"), inches("1/2"))),
    "windows.slot_gap": _usual("least_bridge"),
    "windows.x": _BORDER,
    "windows.y": _BORDER,
    "groove": Example(mm(6), inches("1/4")),
    "fillet.tuck": Example(mm(4), inches("3/16")),
    "fillet.depth": Example(mm(3), inches("1/8")),
    "allowance": _usual("allowance"),
    "spacer.depth": Example(mm(5), inches("3/16")),
}
"""By the paths of the form without the numbers of rows; the size of an artwork may be anything."""
