"""The light on a moulding: which colour a part of its face has on each side of a frame."""

from dataclasses import dataclass
from math import exp

from app.colours import LIGHT, SHADE, Colour
from app.drawings.canvas.shading import FALL, Side
from app.drawings.piece.appearance import Finish, FrameLook, Surface
from app.drawings.piece.profiles import Facet


@dataclass(frozen=True, slots=True)
class _Sheen:
    """How a finish takes the light, in percent.

    slope: on a slope that stands upright. gleam, breadth: of the mirrored light, and how far it spreads in shares of a whole slope.
    """

    slope: int
    gleam: int
    breadth: float


_SHEEN = {
    Finish.MATT: _Sheen(30, 0, 1),
    Finish.SATIN: _Sheen(34, 14, 0.26),
    Finish.GLOSS: _Sheen(36, 72, 0.13),
    Finish.METAL: _Sheen(46, 52, 0.22),
}
_MIRRORED = 0.42
"""The slope that mirrors the light into the eye, as a sine: half of what turns it from the light to the eye."""

_CAMBER = 5
"""Percent that a level face differs from side to side, as grain and brush strokes that meet in a mitre do."""

_LEAF_CAMBER = 11
"""The same of leaf, which mirrors more of the light than it scatters."""

_HOLLOW = 9
"""Percent that the lowest part of a face lies in the shade of the highest."""

_GOLD_LIGHT, _GOLD_SHADE = Colour(red=255, green=246, blue=216), Colour(red=58, green=30, blue=12)
_COLD_LIGHT, _COLD_SHADE = Colour(red=248, green=251, blue=255), Colour(red=14, green=17, blue=22)


def shade(look: FrameLook, facet: Facet, side: Side) -> Colour:
    """Return the colour of a part of the face on one side, in whole percent of light.

    Very dark mouldings are lifted a little, so that a black frame still shows its mitres.
    """
    sheen = _SHEEN[look.finish]
    falls = facet.tilt * FALL[side] / 10
    lift = max(0, (60 - look.colour.luma) // 6)
    gleam = sheen.gleam * exp(-(((falls - _MIRRORED) / sheen.breadth) ** 2)) * facet.crisp
    leaf = look.finish is Finish.METAL and look.surface is Surface.LEAF
    level = (_LEAF_CAMBER if leaf else _CAMBER) * FALL[side] / 10 - _HOLLOW * (1 - facet.height)
    percent = round(lift + level + sheen.slope * falls + gleam)
    lit, shaded = _tints(look)
    return look.colour.mixed(lit if percent > 0 else shaded, min(abs(percent), 92))


def _tints(look: FrameLook) -> tuple[Colour, Colour]:
    """Return what a moulding turns to in the light and in the shade: warm gold, cold metal, or as everything else."""
    if look.finish is not Finish.METAL:
        return LIGHT, SHADE
    return (_GOLD_LIGHT, _GOLD_SHADE) if look.golden else (_COLD_LIGHT, _COLD_SHADE)
