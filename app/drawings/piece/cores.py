"""The colour of a mat's core, which shows in its bevel."""

from app.colours import Colour
from app.drawings.piece.appearance import Look
from app.framing import Dimensions
from app.framing.spec import Core

CORES = {
    Core.WHITE: Colour(red=253, green=251, blue=244),
    Core.CREAM: Colour(red=244, green=232, blue=206),
    Core.BLACK: Colour(red=58, green=55, blue=52),
}
"""Our own choice."""


def core_of(dimensions: Dimensions, look: Look, index: int) -> Colour:
    """Return the colour of a mat's core, 0 for the top one."""
    core = dimensions.spec.mats[index].core
    return look.mat(index) if core is Core.SOLID else CORES[core]
