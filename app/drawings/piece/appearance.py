"""What a piece looks like: colours, finishes and what stands in for the artwork."""

from dataclasses import dataclass
from enum import StrEnum

from app.colours import Colour


class Finish(StrEnum):
    """How a moulding takes the light."""

    MATT = "matt"
    SATIN = "satin"
    GLOSS = "gloss"
    METAL = "metal"

    @classmethod
    def named(cls, text: str) -> "Finish":
        """Return the finish that a price book's own words come closest to; satin where none is named."""
        said = text.casefold()
        return next(
            (finish for finish, known in _FINISH_WORDS if any(w in said for w in known)), cls.SATIN
        )


_FINISH_WORDS = (
    (Finish.METAL, ("gilt", "gild", "gold", "silver", "leaf", "metal", "bronze", "alumin")),
    (Finish.MATT, ("matt", "raw", "bare", "chalk", "lime", "unfinished")),
    (Finish.GLOSS, ("gloss", "lacquer", "polish", "high shine")),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameLook:
    """One moulding: its base colour and finish."""

    colour: Colour
    finish: Finish = Finish.SATIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Colours of a piece. Frames run from the inner one out, mats from the top one down.

    Where a frame or mat has no colour of its own the default is drawn. kind: the artwork's kind in the shop's words; chooses the placeholder.
    image: address of a picture of the artwork, drawn in place of the placeholder. fillet: where
    the piece has one; None draws the default.
    """

    frames: tuple[FrameLook, ...] = ()
    mats: tuple[Colour, ...] = ()
    mount_board: Colour = Colour(red=246, green=242, blue=232)
    kind: str = ""
    image: str | None = None
    fillet: FrameLook | None = None

    def frame(self, index: int) -> FrameLook:
        """Return the look of a frame, 0 for the inner one."""
        return self.frames[index] if index < len(self.frames) else DEFAULT_FRAME

    def mat(self, index: int) -> Colour:
        """Return the colour of a mat's face, 0 for the top one."""
        return self.mats[index] if index < len(self.mats) else DEFAULT_MATS[index > 0]


DEFAULT_FRAME = FrameLook(colour=Colour(red=122, green=90, blue=62))
DEFAULT_FILLET = FrameLook(colour=Colour(red=184, green=150, blue=79), finish=Finish.METAL)
DEFAULT_MATS = (Colour(red=244, green=239, blue=227), Colour(red=214, green=205, blue=187))
