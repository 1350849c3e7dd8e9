"""How closely a ticket is set, from roomy to what just fits one page.

No density takes letters below 9 pt or cut sizes below 14 pt.
"""

from dataclasses import dataclass

from app.framing import Dimensions


@dataclass(frozen=True, slots=True, kw_only=True)
class Density:
    """How closely a ticket is set. front: the most height of the front drawing, mm; plan: the room
    of a mat's plan, mm. classes: of the style sheet; checks_across: whether the checks run over
    the whole width, where the cut list is the longer column.
    """

    classes: str
    front: int
    plan: tuple[float, float]
    checks_across: bool = False


ROOMY = Density(classes="roomy", front=62, plan=(70, 58))
SNUG = Density(classes="snug", front=46, plan=(44, 42))
SNUG_ACROSS = Density(classes="snug", front=28, plan=(44, 33), checks_across=True)
TIGHT = Density(classes="snug tight", front=28, plan=(44, 30))
TIGHT_ACROSS = Density(classes="snug tight", front=28, plan=(44, 30), checks_across=True)
CLOSEST = Density(classes="snug tight closest", front=28, plan=(44, 30), checks_across=True)
DENSITIES = (ROOMY, SNUG, SNUG_ACROSS, TIGHT, TIGHT_ACROSS, CLOSEST, SNUG)
"""Tried in this order until a ticket fits one page; what never does is set over two, readably."""


def densities_for(cut: Dimensions) -> tuple[Density, ...]:
    """The densities to try for a piece: what surely does not fit is not set to find that out."""
    panels = sum(size is not None for size in (cut.glazing, cut.mount_board, cut.backing))
    rows = len(cut.layers) + len(cut.windows) + 2 * len(cut.frames) + panels + len(cut.spacers)
    if rows >= 15:
        return DENSITIES[DENSITIES.index(TIGHT_ACROSS) :]
    if rows >= 11:
        return DENSITIES[DENSITIES.index(TIGHT) :]
    return DENSITIES if len(cut.layers) < 2 else DENSITIES[1:]
