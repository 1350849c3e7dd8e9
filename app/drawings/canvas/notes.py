"""Notes under a drawing, in lines that fit its width, or wider under a narrow one."""

from dataclasses import dataclass

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.canvas import INK, lettering, union
from app.drawings.canvas.lettering import lines_of
from app.drawings.canvas.svg import Markup, group

_SMALLER = 0.85
_LEAST_WIDTH = 30
"""Letter heights; a narrow drawing would otherwise stand on a long ribbon of words."""


@dataclass(frozen=True, slots=True)
class NotedDrawing:
    """A drawing, as an SVG document, and the sentences that the page says under it."""

    svg: str
    notes: tuple[str, ...]


def written_under(room: Box, notes: tuple[str, ...], font: float) -> tuple[Box, Markup]:
    """Notes under a drawing that takes some room, and the room with them."""
    small, width = font * _SMALLER, max(room.width, font * _LEAST_WIDTH)
    lines = [line for note in notes for line in lines_of(note, small, width)]
    if not lines:
        return room, Markup("")
    left = room.centre[0] - width / 2
    first = room.bottom + font * 1.6
    written = group(
        (
            lettering(text, (left, first + small * 1.35 * row), small, anchor="start")
            for row, text in enumerate(lines)
        ),
        class_="notes",
        fill=INK,
    )
    below = Box(left, room.bottom, width, font * 1.6 + small * 1.35 * len(lines))
    return union((room, below)), written
