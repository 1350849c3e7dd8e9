"""Words on the drawing of a cutting plan: which piece a part is for, and how words fit a part.

Pieces are named in full where every part has room for its name; elsewhere by a letter, with a key under
the drawing.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from string import ascii_uppercase

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.canvas import INK, lettering
from app.drawings.canvas.hatch import hatched
from app.drawings.canvas.lettering import lines_of, width_of
from app.drawings.canvas.svg import Markup, Point, element, group, path
from app.lengths import Length, Unit, show

ROW = 1.33
"""Letter heights from one line of words to the next: the ascent and the descent of our face."""

LEAST = 0.76
"""A name smaller than this share of the drawing's letters is not readable; a letter takes its place."""

BLANK = "#ffffff"
"""Under words and numbers; a page's style sheet gives it the colour of its own paper."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """How lines of words stand in a box: their letter height, and whether they are turned."""

    font: float
    turned: bool


def fitted(lines: Sequence[str], room: Box, font: float) -> Fitted:
    """Return the largest letters up to a height in which lines fit a box, turned only where that is larger."""
    straight = _largest(lines, room.width, room.height, font)
    turned = _largest(lines, room.height, room.width, font)
    return Fitted(turned, True) if turned > straight * 1.15 else Fitted(straight, False)


def _largest(lines: Sequence[str], width: float, height: float, font: float) -> float:
    widest = max(width_of(line, 1.0) for line in lines)
    return min(font, width / widest, height / (ROW * len(lines)))


def words_in(lines: Sequence[str], room: Box, font: float) -> Markup:
    """Lines of words in the middle of a box, the first one bold, as large as they fit."""
    how = fitted(lines, room, font)
    x, y = room.centre
    first = -(len(lines) - 1) / 2 * ROW
    written = []
    for number, text in enumerate(lines):
        off = (first + number * ROW) * how.font
        low = how.font * 0.36
        at = (x + off + low, y) if how.turned else (x, y + off + low)
        weight = "600" if number == 0 else "400"
        written.append(lettering(text, at, how.font, turned=how.turned, font_weight=weight))
    return group(written, fill=INK)


def letters(pieces: Iterable[str]) -> Mapping[str, str]:
    """Return a letter for each piece in the order of the names: A to Z, then A2 to Z2."""
    named = sorted(set(pieces))
    return {name: _letter(number) for number, name in enumerate(named)}


def _letter(number: int) -> str:
    again, at = divmod(number, len(ascii_uppercase))
    return f"{ascii_uppercase[at]}{again + 1 if again else ''}"


def key(by_piece: Mapping[str, str]) -> str:
    """Return what the letters stand for, in one line."""
    bound = "\N{NO-BREAK SPACE}"
    return "  ".join(f"{letter}{bound}={bound}{piece}" for piece, letter in by_piece.items())


def lost(trim: Length, off: str, kerf: Length, unit: Unit) -> str:
    """Say what a plan loses: "6 mm trimmed off each end, 3 mm lost at each cut."; nothing where that is nothing. off: each what is trimmed."""
    said = [f"{show(trim, unit, mark=True)} trimmed off each {off}"] if trim else []
    said += [f"{show(kerf, unit, mark=True)} lost at each cut"] if kerf else []
    return f"{', '.join(said)}." if said else ""


def offcut(box: Box, text: str, font: float) -> Markup:
    """Return what is kept: hatched, its size on a blank ground."""
    room = box.inset(font * 0.2)
    how = fitted((text,), room, font)
    long, high = width_of(text, how.font) + how.font * 0.3, how.font * ROW
    across, down = (high, long) if how.turned else (long, high)
    x, y = box.centre
    ground = Box(x - across / 2, y - down / 2, across, down)
    return group(
        (
            path(
                *hatched(box.corners, font * 0.7),
                fill="none",
                stroke=INK,
                stroke_opacity=0.55,
                stroke_width=font * 0.035,
            ),
            rectangle(box, fill="none", stroke=INK, stroke_width=font * 0.05),
            rectangle(ground, fill=BLANK, class_="plan-blank"),
            words_in((text,), room, font),
        ),
        class_="plan-offcut",
    )


def notes_under(room: Box, notes: Sequence[str], font: float) -> tuple[Box, Markup]:
    """Notes in lines as wide as the drawing above them, and the room of both."""
    lines = [line for note in notes for line in lines_of(note, font, room.width)]
    high = font * ROW
    written = group(
        (
            lettering(text, (room.x, room.bottom + high * (row + 1)), font, anchor="start")
            for row, text in enumerate(lines)
        ),
        class_="notes",
        fill=INK,
    )
    below = high * len(lines) + font * 0.4 if lines else 0.0
    return Box(room.x, room.y, room.width, room.height + below), written


def numbered(number: int, at: Point, font: float) -> Markup:
    """Return the number of a cut in a ring."""
    text = str(number)
    small = font * (0.8 if len(text) < 3 else 0.62)
    return group(
        (
            element(
                "circle",
                cx=at[0],
                cy=at[1],
                r=radius(font),
                fill=BLANK,
                stroke=INK,
                stroke_width=font * 0.06,
                class_="plan-blank",
            ),
            lettering(text, (at[0], at[1] + small * 0.36), small, fill=INK),
        ),
        class_="plan-cut",
    )


def radius(font: float) -> float:
    """Return the radius of the ring around a cut's number."""
    return font * 0.72
