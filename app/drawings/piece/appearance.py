"""What a piece looks like: colours, finishes and what stands in for the artwork."""

import re
from dataclasses import dataclass
from enum import StrEnum

from app.colours import Colour
from app.framing import ProfileShape


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


class Surface(StrEnum):
    """What the face of a moulding shows besides its colour.

    PLAIN: nothing, as paint. WOOD: its grain. LIMED: grain that is filled with white. LEAF: the joints of the leaves. BRUSHED: fine
    strokes along it. CLOTH: a weave.
    """

    PLAIN = "plain"
    WOOD = "wood"
    LIMED = "limed"
    LEAF = "leaf"
    BRUSHED = "brushed"
    CLOTH = "cloth"

    @classmethod
    def named(cls, finish: str, name: str) -> "Surface":
        """Return the surface that a finish names, or else the name of the material; plain where neither does."""
        known = ((_FINISHES, finish), (_MATTER, name))
        return next(
            (
                surface
                for words, said in known
                for surface, pattern in words
                if pattern.search(said.casefold())
            ),
            cls.PLAIN,
        )


def _words(*words: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(words)})\b")


_WOVEN = _words("linen", "cloth", "fabric", "silk", "hessian", "woven")
_FINISHES = (
    (Surface.CLOTH, _WOVEN),
    (Surface.LEAF, _words("leaf", "gilt", "gilded", "gilding", "water gilt")),
    (
        Surface.BRUSHED,
        _words("metal", "metallic", "gold", "silver", "bronze", "alumin(?:i?um)", "steel"),
    ),
    (Surface.PLAIN, _words("chalk", "paint", "painted", "lacquer", "lacquered", "gesso", "spray")),
    (Surface.LIMED, _words("limed", "lime waxed", "limewaxed", "limewashed")),
    (
        Surface.WOOD,
        _words("raw", "bare", "oiled", "waxed", "stained", "polished", "grain", "veneer", "wood"),
    ),
)
_MATTER = (
    (Surface.CLOTH, _WOVEN),
    (
        Surface.WOOD,
        _words(
            *("oak", "ash", "walnut", "beech", "cherry", "mahogany", "pine", "maple", "lime"),
            *("obeche", "ayous", "ramin", "teak", "ebony", "birch", "elm", "wood", "tulipwood"),
        ),
    ),
)
"""Woods that mouldings are made of. Source: common practice."""

_RUBBED = _words("rubbed", "worn", "distressed", "antiqued")
_LOW_REFLECTION = re.compile(
    r"\b(?:low|anti|non|no)[ -]?reflect|\breflection[ -]free|\b(?:etched|matt|diffused?)\b"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameLook:
    """One moulding: its base colour and finish, what its face shows and its shape.

    rubbed: whether it is rubbed through along its edges. shape: None draws a plain one.
    """

    colour: Colour
    finish: Finish = Finish.SATIN
    surface: Surface = Surface.PLAIN
    rubbed: bool = False
    shape: ProfileShape | None = None

    @property
    def golden(self) -> bool:
        """Whether it is covered with leaf that is warm as gold, not cold as silver."""
        return self.surface is Surface.LEAF and self.colour.red > self.colour.blue + 24

    @classmethod
    def described(
        cls, colour: Colour, finish: str, name: str, shape: ProfileShape | None = None
    ) -> "FrameLook":
        """Return the look of a moulding that a price book has in its own words."""
        return cls(
            colour=colour,
            finish=Finish.named(finish),
            surface=Surface.named(finish, name),
            rubbed=bool(_RUBBED.search(finish.casefold())),
            shape=shape or ProfileShape.named(name),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Colours of a piece. Frames run from the inner one out, mats from the top one down.

    Where a frame or mat has no colour of its own the default is drawn. kind: the artwork's kind in the shop's words; chooses the placeholder.
    image: address of a picture of the artwork, drawn in place of the placeholder. fillet: where
    the piece has one; None draws the default. woven: of each mat, whether it is faced with cloth.
    low_reflection: whether the glazing mirrors less than plain glass.
    """

    frames: tuple[FrameLook, ...] = ()
    mats: tuple[Colour, ...] = ()
    mount_board: Colour = Colour(red=246, green=242, blue=232)
    kind: str = ""
    image: str | None = None
    fillet: FrameLook | None = None
    backing: Colour = Colour(red=205, green=180, blue=142)
    woven: tuple[bool, ...] = ()
    low_reflection: bool = False

    def frame(self, index: int) -> FrameLook:
        """Return the look of a frame, 0 for the inner one."""
        return self.frames[index] if index < len(self.frames) else DEFAULT_FRAME

    def mat(self, index: int) -> Colour:
        """Return the colour of a mat's face, 0 for the top one."""
        return self.mats[index] if index < len(self.mats) else DEFAULT_MATS[index > 0]

    def is_woven(self, index: int) -> bool:
        """Tell whether a mat is faced with cloth, 0 for the top one."""
        return index < len(self.woven) and self.woven[index]


def woven(text: str) -> bool:
    """Tell whether the words for a board say that it is faced with cloth."""
    return bool(_WOVEN.search(text.casefold()))


def reflects_little(text: str) -> bool:
    """Tell whether the words for a glazing say that it mirrors less than plain glass."""
    return bool(_LOW_REFLECTION.search(text.casefold()))


DEFAULT_FRAME = FrameLook(colour=Colour(red=122, green=90, blue=62))
DEFAULT_FILLET = FrameLook(
    colour=Colour(red=184, green=150, blue=79), finish=Finish.METAL, surface=Surface.LEAF
)
DEFAULT_MATS = (Colour(red=244, green=239, blue=227), Colour(red=214, green=205, blue=187))
