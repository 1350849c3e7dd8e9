"""Things that a wall is drawn with, so that one sees how large a piece is.

Sizes are common practice for such things, in whole millimetres; they are of no maker's.
"""

from dataclasses import dataclass
from enum import StrEnum

from app.lengths import Length, Size, mm


class Thing(StrEnum):
    """What stands at the wall."""

    NONE = "none"
    SOFA = "sofa"
    TABLE = "table"
    CHAIR = "chair"
    DOOR = "door"


@dataclass(frozen=True, slots=True, kw_only=True)
class ThingSize:
    """How large a thing is. called: in a sentence. beneath: whether pieces hang above it, else beside it."""

    called: str
    size: Size
    beneath: bool

    @property
    def height(self) -> Length:
        """How high it is."""
        return self.size.height


LEAF = Size(mm(800), mm(2000))
"""A door's leaf. Source: common practice, a usual inner door."""

CASING = mm(70)
"""What frames a door on each side and above. Source: common practice."""

SKIRTING = mm(90)
"""The height of the skirting. Source: common practice."""

THINGS = {
    Thing.SOFA: ThingSize(called="sofa", size=Size(mm(2000), mm(800)), beneath=True),
    Thing.TABLE: ThingSize(called="table", size=Size(mm(1200), mm(750)), beneath=True),
    Thing.CHAIR: ThingSize(called="chair", size=Size(mm(450), mm(850)), beneath=False),
    Thing.DOOR: ThingSize(
        called="door",
        size=Size(LEAF.width + 2 * CASING, LEAF.height + CASING),
        beneath=False,
    ),
}
"""Source: common practice; a sofa for two or three, its back's height; a side table; a kitchen chair."""
