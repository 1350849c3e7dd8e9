"""How large the letters of a drawing are, so that they can be read when the whole is shown small."""

from collections.abc import Callable, Mapping, Sequence

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.canvas import ACROSS
from app.drawings.canvas.notes import written_under
from app.drawings.canvas.shading import Side
from app.drawings.dimensioning.lines import DimensionLines
from app.drawings.dimensioning.rows import Lane

LEAST_ACROSS = 19
"""Letter heights along the object itself, so that words never crowd out what they are about."""


def fitted(target: Box, lanes: Mapping[Side, Sequence[Lane]]) -> tuple[float, DimensionLines]:
    """Letters of 1/42 of the longer side of the whole, and the dimension lines with them.

    The whole grows with the letters by less than they do, so a few rounds come close enough.
    """
    font = max(target.width, target.height) / 28
    for _ in range(4):
        room = DimensionLines(target, lanes, font).room
        font = max(room.width, room.height) / ACROSS
    return font, DimensionLines(target, lanes, font)


def across_for(windows: int, notes: tuple[str, ...]) -> int:
    """Letter heights along the longer side: 42, or where there is much to say 50, 10 px in 500."""
    return _MUCH_ACROSS if windows > 12 or sum(map(len, notes)) > _MUCH else ACROSS


def fitted_with_notes(
    target: Box,
    room_at: Callable[[float], Box],
    notes: tuple[str, ...],
    across: int,
    least_across: int = LEAST_ACROSS,
) -> float:
    """Return the letters of a drawing whose notes take so much room that it counts.

    room_at: what the drawing takes with letters of a height. across: letter heights that are to
    make up the longer side of the whole. least_across: as many along the object itself at least.
    """
    longer = max(target.width, target.height)
    small, large = longer / 100, longer / least_across
    for _ in range(12):
        font = (small + large) / 2
        room, _written = written_under(room_at(font), notes, font)
        if max(room.width, room.height) < font * across:
            large = font
        else:
            small = font
    return small


_MUCH, _MUCH_ACROSS = 400, 50
