"""How the photo of an artwork fits its size: whether one lies and the other stands, and what of the photo is cut off."""

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import assert_never

from app.framing import Notice
from app.lengths import Size, Unit, say

UNEQUAL = Fraction(11, 10)
"""How many times as long the long side is where a picture lies or stands; a squarer one does neither. Source: ours."""

MUCH = Fraction(112, 100)
"""How many times as wide or as high as its size a photo is where what is cut off is worth a word. Source: ours."""


class Fit(Enum):
    """How a photo fits. LIES: it lies across and the size stands; STANDS: the other way; SIDES, ENDS: where it is cut off."""

    WELL = "well"
    LIES = "lies"
    STANDS = "stands"
    SIDES = "sides"
    ENDS = "ends"

    @property
    def turned(self) -> bool:
        """Whether the photo or the size is the wrong way round."""
        return self in (Fit.LIES, Fit.STANDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Proportions:
    """Width by height of a photo. taken: of what was taken of the artwork; shown: of the picture that came of it.

    They differ where corners were put on it and the size of the artwork was known.
    """

    taken: Fraction
    shown: Fraction


def proportion(size: Size) -> Fraction:
    """Return width by height of a size."""
    return size.width / size.height


def fit_of(photo: Proportions, size: Size) -> Fit:
    """Return how a photo fits the size of the artwork. Expects a size above zero."""
    wanted = proportion(size)
    if photo.taken >= UNEQUAL and 1 / wanted >= UNEQUAL:
        return Fit.LIES
    if 1 / photo.taken >= UNEQUAL and wanted >= UNEQUAL:
        return Fit.STANDS
    if photo.shown > wanted * MUCH:
        return Fit.SIDES
    if photo.shown * MUCH < wanted:
        return Fit.ENDS
    return Fit.WELL


def in_words(fit: Fit) -> str:
    """Say how a photo fits, in one sentence; empty where it fits well."""
    match fit:
        case Fit.LIES:
            return "The photo lies across, the size stands."
        case Fit.STANDS:
            return "The photo stands, the size lies across."
        case Fit.SIDES:
            return "The photo is wider than the size and is cut off at its sides."
        case Fit.ENDS:
            return "The photo is higher than the size and is cut off at top and bottom."
        case Fit.WELL:
            return ""
        case _:
            assert_never(fit)


def photo_notices(fit: Fit, size: Size, unit: Unit) -> tuple[Notice, ...]:
    """Ask for a second look where photo and size do not lie the same way; the size may have been said the wrong way round."""
    if not fit.turned:
        return ()
    return (
        Notice(
            code="photo-turned",
            message=f"{in_words(fit)} Is the artwork {say(size, unit)}, or {say(size.turned(), unit)}?",
        ),
    )
