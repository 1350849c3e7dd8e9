"""In what letters a quote is set, from the roomiest to the tightest, and how high lines of text are in them."""

from dataclasses import dataclass

from app.documents.kit.faces import POINT_MM, SANS, SERIF
from app.documents.kit.printing import kept

_TITLE_LEADING = 1.2


@dataclass(frozen=True, slots=True)
class Letters:
    """Sizes of letters, in points. classes: of the style sheet. text: what is read; small: what is said beside it.

    least_wall: how high the wall of one piece is at least, mm. folded: whether what is said of it runs on in one
    paragraph. leading: the height of a line of text by its letters.
    """

    classes: str
    text: float
    small: float
    least_wall: float
    folded: bool = False
    leading: float = 1.3

    @property
    def line(self) -> float:
        """How high a line is, mm."""
        return self.text * POINT_MM * self.leading

    @property
    def note(self) -> float:
        """How high a line of what is said beside is, mm."""
        return self.small * POINT_MM * 1.25

    def text_height(self, text: str, wide: float, *, first: float = 0) -> float:
        """Foresee how high a text is. wide: of its lines; first: what is taken of the first one, mm."""
        return SANS.lines(kept(text), self.text, wide, first=first) * self.line

    def note_height(self, text: str, wide: float) -> float:
        """Foresee how high what is said beside is. wide: of its lines, mm."""
        return SANS.lines(kept(text), self.small, wide) * self.note


def title_height(title: str, points: float, wide: float) -> float:
    """Foresee how high a title is. wide: of its lines, mm."""
    return SERIF.lines(title, points, wide) * points * POINT_MM * _TITLE_LEADING


WIDE_LETTERS = (
    Letters("roomy", 10.5, 9.5, 88),
    Letters("snug", 9.8, 9.2, 70),
    Letters("tight", 9.1, 9, 55),
    Letters("tight folded", 9.1, 9, 30, folded=True),
)
NARROW_LETTERS = (
    Letters("narrow", 9.3, 9, 52, leading=1.25),
    Letters("narrow tight", 9, 9, 34, leading=1.25),
    Letters("narrow tight folded", 9, 9, 18, leading=1.25, folded=True),
)
"""The same on half a sheet."""
