"""What is drawn where the artwork goes: its picture, or a quiet placeholder by its kind.

Several artworks of one kind are each drawn a little differently, as a set of photographs is.
"""

from collections.abc import Iterator

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.svg import Markup, element, group, line, number
from app.drawings.piece.appearance import Look
from app.drawings.piece.motifs import Motif, motif_of

_TINTS = (None, "#b98a5a", "#5f7f95", "#7f8f6d", "#a8705f", "#d8cfae", "#8d7a94")
"""Laid over one artwork after another; the first stays as it is. Seven, which no row of two or four falls in step with."""

_TINT_STRENGTH = 0.16


def artwork(box: Box, look: Look, index: int = 0) -> Markup:
    """Return the picture, cut to fill its box, or the placeholder for its kind.

    index: which of several artworks it is, from 0.
    """
    if look.image is not None:
        return element(
            "image",
            href=look.image,
            x=box.x,
            y=box.y,
            width=box.width,
            height=box.height,
            preserveAspectRatio="xMidYMid slice",
            class_="artwork",
        )
    return group(_placeholder(box, motif_of(look.kind), index), class_="artwork")


def _placeholder(box: Box, motif: Motif, index: int) -> Iterator[Markup]:
    """Yield a motif as it is, or for later artworks turned about and tinted."""
    drawn = tuple(mark(box) for mark in motif)
    if index % 2:
        yield group(drawn, transform=_turned_about(box))
    else:
        yield from drawn
    tint = _TINTS[index % len(_TINTS)]
    if tint is not None:
        yield rectangle(box, fill=tint, fill_opacity=_TINT_STRENGTH)


def _turned_about(box: Box) -> str:
    """Left and right exchanged within a box."""
    return f"translate({number(2 * box.centre[0])} 0) scale(-1 1)"


def title_card(box: Box) -> Markup:
    """Return a card with a line of writing, behind a title slot."""
    x, y = box.centre
    half, letters = box.width * 0.3, min(box.height * 0.22, 4)
    return group(
        (
            rectangle(box, fill="#f2ead8"),
            line(
                (x - half, y),
                (x + half, y),
                stroke="#4d4a45",
                stroke_opacity=0.6,
                stroke_width=letters,
                stroke_dasharray=f"{number(letters * 4)} {number(letters * 1.3)}",
            ),
        ),
        class_="title",
    )
