"""A plan of one mat by itself, from the front or from the back, with its borders dimensioned.

One window has its borders beside it; how several are shown is in `manywindows`.
"""

from app.drawings.canvas.canvas import INK, drawing, lettering
from app.drawings.canvas.lettering import width_of
from app.drawings.canvas.notes import written_under
from app.drawings.canvas.shading import Side
from app.drawings.canvas.svg import Markup
from app.drawings.dimensioning.fitting import fitted
from app.drawings.dimensioning.rows import Lane
from app.drawings.mats.many_windows import ManyWindows
from app.drawings.mats.turned import EXCHANGED, TurnedMat
from app.framing import Dimensions
from app.lengths import Unit


def mat_plan(dimensions: Dimensions, layer: int, unit: Unit, *, from_back: bool) -> str:
    """Return one mat as an SVG document, figures in one unit; 1 is the top layer.

    Borders are measured as they are set on the cutter: from the mat's own edges, or from the top
    mat's where the mat is fixed behind it (G7), to the window at the back of the board. Several
    windows are measured from the left and the top edge as the mat lies.
    Raises: ValueError for a layer that the piece has not.
    """
    mat = TurnedMat(dimensions, layer, unit, from_back=from_back)
    if mat.several:
        return ManyWindows.fitted(mat).plan()
    font, placed = fitted(mat.edges, _lanes(mat))
    caption = _caption(mat, font)
    notes = (" ".join(mat.notes(captioned=bool(caption))),)
    room, written = written_under(placed.room, notes, font)
    return drawing(
        room.inset(-font * 0.5),
        mat.lines(font),
        *caption,
        placed.marks(),
        written,
        class_="drawing drawing-mat",
        title=mat.title,
        desc=mat.in_words(),
    )


def _lanes(mat: TurnedMat) -> dict[Side, list[Lane]]:
    """Borders and window, and the whole, above and at the left; a trimmed blank opposite."""
    edges, window, borders = mat.edges, mat.holes[0].window.box, mat.borders()
    size, span = mat.holes[0].sizes.size, mat.span
    return {
        Side.TOP: [
            (
                span("", borders.left, edges.x, window.x, window.y),
                span("window", size.width, window.x, window.right, window.y),
                span("", borders.right, window.right, edges.right, window.y),
            ),
            mat.whole_lane(Side.TOP),
        ],
        Side.LEFT: [
            (
                span("", borders.top, edges.y, window.y, window.x),
                span("window", size.height, window.y, window.bottom, window.x),
                span("", borders.bottom, window.bottom, edges.bottom, window.x),
            ),
            mat.whole_lane(Side.LEFT),
        ],
        **mat.blank_lanes(),
    }


def _caption(mat: TurnedMat, font: float) -> tuple[Markup, ...]:
    """Return the side in words, in the window where it fits there."""
    side = mat.title.upper() if mat.from_back else mat.title
    lines = (side, EXCHANGED) if mat.from_back else (side,)
    sizes = (font * 1.1, font * 0.85)
    widest = max(width_of(text, size) for text, size in zip(lines, sizes, strict=False))
    window, face = mat.holes[0].window, mat.holes[0].face.box
    inside = window.inside.inset(abs(face.width - window.box.width) / 2 + font * 0.4)
    if inside.width < widest or inside.height < font * 3.2:
        return ()
    x, y = inside.centre
    first = y - font * 0.2 if mat.from_back else y + font * 0.4
    return tuple(
        lettering(text, (x, first + row * font * 1.4), sizes[row], fill=INK, class_="ink")
        for row, text in enumerate(lines)
    )
