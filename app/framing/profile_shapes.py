"""Shapes of a moulding's face, as a cut through it shows them, by their names in the trade.

Source: common practice; makers have many more, and each of theirs is close to one of these.
"""

import re
from enum import StrEnum


class ProfileShape(StrEnum):
    """The shape of a moulding's face from its outside edge to the lip.

    FLAT: level, with square edges. ROUNDED: highest along its middle. BEVELLED: falls straight to the lip. SCOOP: falls to the lip in a
    hollow. OGEE: rounded outside, hollow inside. REVERSE: highest at the lip, falls to the outside. STEPPED: down to the lip in steps.
    REEDED: beads side by side.
    """

    FLAT = "flat"
    ROUNDED = "rounded"
    BEVELLED = "bevelled"
    SCOOP = "scoop"
    OGEE = "ogee"
    REVERSE = "reverse"
    STEPPED = "stepped"
    REEDED = "reeded"

    @property
    def also(self) -> tuple[str, ...]:
        """What else the trade says for it."""
        return _ALSO[self]

    @classmethod
    def named(cls, text: str) -> "ProfileShape | None":
        """Return the shape that a moulding's own words name; None where they name none."""
        said = text.casefold().replace("-", " ")
        return next((shape for shape, known in _KNOWN if known.search(said)), None)


_ALSO: dict[ProfileShape, tuple[str, ...]] = {
    ProfileShape.REVERSE: ("reversed", "reverse profile"),
    ProfileShape.OGEE: ("cyma", "swan"),
    ProfileShape.REEDED: ("reed", "beaded", "bead", "fluted"),
    ProfileShape.STEPPED: ("step", "steps"),
    ProfileShape.SCOOP: ("scooped", "hollow", "cove", "spoon"),
    ProfileShape.BEVELLED: ("bevel", "wedge", "slope", "sloped", "chamfer", "chamfered"),
    ProfileShape.ROUNDED: ("half round", "round", "dome", "domed", "cushion", "bullnose"),
    ProfileShape.FLAT: ("block", "box", "cap", "cube", "square"),
}
"""In the order in which words of a name count: "reverse scoop" is a reverse."""

_KNOWN = tuple(
    (shape, re.compile(rf"\b(?:{'|'.join((shape.value, *words))})\b"))
    for shape, words in _ALSO.items()
)
