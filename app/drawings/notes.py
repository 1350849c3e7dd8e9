"""Notes under a drawing, in lines that fit its width."""

from app.drawings.boxes import Box
from app.drawings.lettering import lines_of
from app.drawings.sheet import INK, lettering, union
from app.drawings.svg import Markup, group


def written_under(room: Box, notes: tuple[str, ...], font: float) -> tuple[Box, Markup]:
    """Notes under a drawing, and the room with them."""
    small = font * 0.85
    lines = [line for note in notes for line in lines_of(note, small, room.width)]
    first = room.bottom + font * 1.6
    written = group(
        (
            lettering(text, (room.x, first + small * 1.35 * row), small, anchor="start")
            for row, text in enumerate(lines)
        ),
        class_="notes",
        fill=INK,
    )
    below = Box(room.x, room.bottom, room.width, font * 1.6 + small * 1.35 * len(lines))
    return (union((room, below)) if lines else room), written
