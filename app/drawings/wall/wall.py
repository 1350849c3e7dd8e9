"""Pieces on a wall, to scale: one unit of the drawing is one millimetre, the floor is at 0 and y goes down.

The wall is a wash of colour on paper, what stands at it is pencil over a wash, and only the pieces are drawn whole.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from app.colours import Colour
from app.counting import counted
from app.drawings.canvas.boxes import Box, coordinate, rectangle
from app.drawings.canvas.canvas import drawing, union
from app.drawings.canvas.svg import Markup, group, number
from app.drawings.piece.appearance import Look
from app.drawings.piece.front import hung
from app.drawings.wall.colours import USUAL_WALL, WALL_COLOURS
from app.drawings.wall.furniture import furniture
from app.drawings.wall.hanging import USUAL_GAP, Hanging, ToHang, hang
from app.drawings.wall.strokes import PAPER, Pen, light, wash
from app.drawings.wall.things import SKIRTING, THINGS, Thing
from app.framing import Dimensions
from app.lengths import Size

FLOOR_SHOWN = 240.0
"""Millimetres of the drawing that the floor takes. Source: ours."""

AIR = 330.0
"""Millimetres of wall around what is looked at, where it goes on. Source: ours."""

LEAST_ACROSS = 1.2
"""How wide what is looked at is drawn at least, of its height. Source: ours, so that it fits a screen."""

_FLOOR = Colour.parse("#d8c4a3")
_BOARD = Colour.parse("#f2ede3")


@dataclass(frozen=True, slots=True, kw_only=True)
class HungPiece:
    """A piece with its looks."""

    dimensions: Dimensions
    look: Look

    @property
    def size(self) -> Size:
        """What it takes on the wall."""
        return self.dimensions.drawn_outside


def on_a_wall(hanging: Hanging, pieces: Sequence[HungPiece], colour: Colour) -> str:
    """Return the pieces as they hang, as an SVG document. pieces: as many as there are places, in their order."""
    view = _view(hanging)
    paper = view.width * 0.022
    pen = Pen(width=view.width * 0.0017)
    return drawing(
        view.inset(-paper),
        rectangle(view.inset(-paper), fill=PAPER.hex, class_="paper"),
        *_room(hanging, view, colour, pen),
        furniture(hanging.thing, _thing(hanging), pen),
        *_hung(hanging, pieces),
        class_="drawing drawing-wall",
        title=in_words(hanging),
        desc="Drawn to scale.",
    )


def above_a_sofa(dimensions: Dimensions, look: Look) -> str:
    """Return one piece as it would hang above a sofa, on the wall that is usual here."""
    unit, piece = dimensions.spec.unit, HungPiece(dimensions=dimensions, look=look)
    wanted = ToHang(sizes=(piece.size,), unit=unit, gap=USUAL_GAP[unit], thing=Thing.SOFA)
    return on_a_wall(hang(wanted), (piece,), WALL_COLOURS[USUAL_WALL][1])


def in_words(hanging: Hanging) -> str:
    """Say what the drawing shows, for whoever cannot see it: "3 pictures on a wall above a sofa"."""
    thing = THINGS.get(hanging.thing)
    pieces = counted(len(hanging.places), "picture")
    if thing is None:
        return f"{pieces} on a wall"
    return f"{pieces} on a wall {'above' if thing.beneath else 'beside'} a {thing.called}"


def _group(hanging: Hanging) -> Box:
    """Return what is around all pieces."""
    return Box.of(hanging.size, -(hanging.size.width / 2), -hanging.top)


def _thing(hanging: Hanging) -> Box:
    """Return what a thing at the wall takes; a box of no size at the floor where there is none."""
    thing = THINGS.get(hanging.thing)
    if thing is None or hanging.thing_left is None:
        return Box(0, 0, 0, 0)
    return Box.of(thing.size, hanging.thing_left, -thing.height)


def _view(hanging: Hanging) -> Box:
    """Return what is shown: the wall that is given, else what is looked at with some wall around it."""
    if hanging.wall is not None and hanging.wall_left is not None:
        wall = Box.of(hanging.wall, hanging.wall_left, -hanging.wall.height)
        return Box.between(wall.x, wall.y, wall.right, FLOOR_SHOWN)
    seen = union((_group(hanging), _thing(hanging)))
    height = FLOOR_SHOWN - seen.y + AIR
    width = max(seen.width + 2 * AIR, height * LEAST_ACROSS)
    return Box(seen.centre[0] - width / 2, seen.y - AIR, width, height)


def _room(hanging: Hanging, view: Box, colour: Colour, pen: Pen) -> Iterator[Markup]:
    """Yield wall, floor and skirting. The wall's own colour shows at its sides; about the pieces there is light on it."""
    uneven = view.width * 0.005
    skirting = -coordinate(SKIRTING)
    # Both washes end behind the skirting, where nobody sees how even they are.
    yield wash(Box.between(view.x, view.y, view.right, skirting / 2), colour, uneven)
    yield _light(_group(hanging), view, colour)
    yield wash(Box.between(view.x, skirting / 2, view.right, view.bottom), _FLOOR, uneven)
    yield from _boards(view, pen)
    board = Box.between(view.x, skirting, view.right, 0)
    yield rectangle(board, fill=_BOARD.hex, class_="skirting")
    past = view.width * 0.008
    yield pen.strokes(
        ((view.x - past, 0), (view.right + past, 0)),
        ((view.x - past * 0.4, skirting), (view.right + past * 0.6, skirting)),
    )
    yield pen.strokes(((view.x, skirting + 16), (view.right, skirting + 16)), fine=True)
    if hanging.wall is not None:
        yield pen.strokes(
            ((view.x, view.y - past), (view.x, past)),
            ((view.right, view.y - past), (view.right, past)),
            ((view.x - past, view.y), (view.right + past, view.y)),
        )


def _light(pieces: Box, view: Box, colour: Colour) -> Markup:
    """Return the light about the pieces, from the left and above; it ends before the edge of the wall."""
    x, y = pieces.centre
    wish = max(pieces.width, pieces.height) + 500
    across = min(wish, x - view.x, view.right - x) * 0.94
    down = min(wish * 0.85, y - view.y) * 0.94
    return light(colour, (x - across * 0.05, y - down * 0.05), (across, down), 18)


def _boards(view: Box, pen: Pen) -> Iterator[Markup]:
    """Yield the boards of the floor, which run towards the middle of the wall."""
    middle = view.centre[0]
    count = int(view.width / 260)
    yield pen.strokes(
        *(
            (
                (middle + (at - count / 2) * 260, 14),
                (middle + (at - count / 2) * 260 * 1.28, view.bottom - 12),
            )
            for at in range(1, count)
            if abs((at - count / 2) * 260 * 1.28) < view.width / 2 - 20
        ),
        fine=True,
    )


def _hung(hanging: Hanging, pieces: Sequence[HungPiece]) -> Iterator[Markup]:
    """Yield each piece in its place, with its shadow."""
    drawn = {piece: hung(piece.dimensions, piece.look) for piece in set(pieces)}
    for place, piece in zip(hanging.places, pieces, strict=True):
        left, top = coordinate(place.left), -coordinate(place.top)
        yield group(
            (drawn[piece],), transform=f"translate({number(left)} {number(top)})", class_="on-wall"
        )
