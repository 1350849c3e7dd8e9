"""The side that a mat is seen from, in words above its drawing."""

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.canvas import INK, lettering
from app.drawings.canvas.lettering import width_of
from app.drawings.canvas.svg import Markup, group


def written_above(
    room: Box, middle: float, lines: tuple[str, ...], font: float
) -> tuple[Box, Markup]:
    """Return one or two lines about a middle, above what takes some room; the first one is larger."""
    sizes = (font * 1.1, font * 0.85)
    width = max(width_of(text, size) for text, size in zip(lines, sizes, strict=False))
    foot = room.y - font * 0.6
    top = foot - font * 1.35 * len(lines)
    written = (
        lettering(text, (middle, top + font * (1 + 1.3 * row)), sizes[row], fill=INK)
        for row, text in enumerate(lines)
    )
    box = Box.between(middle - width / 2, top, middle + width / 2, foot)
    return box, group(written, class_="ink")
