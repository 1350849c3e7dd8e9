"""The piece from the front in ink lines, for the drawing that carries its dimensions."""

from app.drawings.canvas.boxes import Box, rectangle
from app.drawings.canvas.canvas import INK
from app.drawings.canvas.shapes import drawn
from app.drawings.canvas.svg import Markup, group, number, path
from app.drawings.piece.layout import DrawingLayout


def ink_lines(layout: DrawingLayout, font: float) -> Markup:
    """Return the piece in ink: what is seen in full lines, what is hidden in dashes."""
    holes = [hole for mat in layout.mats for hole in mat.holes]
    return group(
        (
            *(
                rectangle(one.box, fill=INK, fill_opacity=0.07, stroke="none")
                for one in layout.artworks
            ),
            *(
                _edge(one.box, font, hidden=bool(layout.mats) and not one.floats)
                for one in layout.artworks
            ),
            *(drawn(hole.face, stroke_opacity=0.45) for hole in holes),
            *(drawn(hole.window) for hole in holes),
            *(drawn(groove, stroke_opacity=0.3) for groove in layout.grooves),
            _edge(layout.package, font, hidden=bool(layout.frames)),
            *(_frame(frame.outside, frame.sight) for frame in layout.frames),
            *(_frame(fillet.window, fillet.sight) for fillet in layout.fillets),
            *(_edge(fillet.outside, font, hidden=True) for fillet in layout.fillets),
        ),
        class_="ink",
        fill="none",
        stroke=INK,
        stroke_width=font * 0.07,
    )


def _edge(box: Box, font: float, *, hidden: bool) -> Markup:
    dashes = f"{number(font * 0.5)} {number(font * 0.35)}"
    return rectangle(
        box,
        stroke_dasharray=dashes if hidden else None,
        stroke_opacity=0.6 if hidden else None,
    )


def _frame(outside: Box, sight: Box) -> Markup:
    """Outside and sight with their mitres, lightly toned."""
    return group(
        (
            path(
                outside.corners,
                sight.corners,
                closed=True,
                fill=INK,
                fill_opacity=0.05,
                fill_rule="evenodd",
            ),
            path(*zip(outside.corners, sight.corners, strict=True), stroke_opacity=0.6),
        )
    )
