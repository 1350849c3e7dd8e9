"""A sofa, a table, a chair and a door from the front, in a few strokes of pencil over a wash.

Each is drawn into its own box, whose lower side is the floor, by sizes in millimetres.
"""

from collections.abc import Callable, Iterator

from app.colours import Colour
from app.drawings.canvas.boxes import Box, coordinate
from app.drawings.canvas.svg import Markup, Point, element, group, number, through
from app.drawings.wall.strokes import GRAPHITE, Pen, floor_shadow
from app.drawings.wall.things import CASING, Thing

_CLOTH = Colour.parse("#e9e3d6")
_WOOD = Colour.parse("#cbb08a")
_PAINT = Colour.parse("#f3efe6")


def furniture(thing: Thing, box: Box, pen: Pen) -> Markup:
    """Return a thing with its shadow on the floor; nothing for none."""
    if thing is Thing.NONE:
        return Markup("")
    draw, on_legs = _DRAWN[thing]
    under = (box.centre[0] + box.width * 0.02, box.bottom + 6)
    shadow = (floor_shadow(under, (box.width * 0.56, 46)),) if on_legs else ()
    return group((*shadow, *draw(box, pen)), class_=f"thing thing-{thing.value}")


def _rounded(
    left: float, top: float, right: float, bottom: float, round_: tuple[float, float]
) -> str:
    """Return the path of a box with its upper and its lower corners rounded."""
    up, down = round_
    x1, y1, x2, y2 = left, top, right, bottom
    return (
        f"M{number(x1)},{number(y2 - down)}L{number(x1)},{number(y1 + up)}"
        f"Q{number(x1)},{number(y1)} {number(x1 + up)},{number(y1)}"
        f"L{number(x2 - up)},{number(y1)}Q{number(x2)},{number(y1)} {number(x2)},{number(y1 + up)}"
        f"L{number(x2)},{number(y2 - down)}Q{number(x2)},{number(y2)} {number(x2 - down)},{number(y2)}"
        f"L{number(x1 + down)},{number(y2)}Q{number(x1)},{number(y2)} {number(x1)},{number(y2 - down)}Z"
    )


def _legs(
    xs: tuple[float, ...], top: float, floor: float, width: float
) -> Iterator[tuple[Point, ...]]:
    """Yield legs that are narrower at the floor."""
    for x in xs:
        yield (
            (x - width / 2, top),
            (x + width / 2, top),
            (x + width * 0.3, floor),
            (x - width * 0.3, floor),
        )


def _filled_legs(legs: Iterator[tuple[Point, ...]], pen: Pen, colour: Colour) -> Iterator[Markup]:
    for leg in legs:
        yield pen.outline(through(leg, closed=True), colour.hex)


def _sofa(box: Box, pen: Pen) -> Iterator[Markup]:
    x1, x2, top, floor = box.x, box.right, box.y, box.bottom
    seat, foot, arm = floor - 430, floor - 130, 190.0
    yield from _filled_legs(_legs((x1 + 120, x2 - 120), foot, floor, 56), pen, _WOOD.lit(-30))
    middle = box.centre[0]
    # The back is two cushions, the seat two, between arms that stand before them.
    for left, right in ((x1 + 90, middle), (middle, x2 - 90)):
        yield pen.outline(_rounded(left, top, right, seat + 20, (70, 10)), _CLOTH.lit(-6).hex)
    yield pen.shade(Box.between(x1 + arm, seat - 60, x2 - arm, seat), pitch=26)
    for left, right in ((x1 + arm - 20, middle), (middle, x2 - arm + 20)):
        yield pen.outline(_rounded(left, seat, right, seat + 150, (45, 30)), _CLOTH.lit(20).hex)
    yield pen.outline(_rounded(x1 + arm - 40, seat + 150, x2 - arm + 40, foot, (4, 4)), _CLOTH.hex)
    yield pen.shade(Box.between(x1 + arm, seat + 150, x2 - arm, seat + 195), pitch=26)
    for left, right in ((x1, x1 + arm), (x2 - arm, x2)):
        yield pen.outline(_rounded(left, top + 190, right, foot, (70, 14)), _CLOTH.lit(10).hex)
        yield pen.strokes(((left + 28, top + 290), (left + 28, foot - 30)), fine=True)
    yield pen.shade(Box.between(x2 - 62, top + 240, x2 - 6, foot - 8), pitch=26)


def _table(box: Box, pen: Pen) -> Iterator[Markup]:
    x1, x2, top, floor = box.x, box.right, box.y, box.bottom
    yield from _filled_legs(_legs((x1 + 75, x2 - 75), top + 30, floor, 52), pen, _WOOD)
    apron = Box.between(x1 + 52, top + 32, x2 - 52, top + 150)
    yield from pen.box(apron, _WOOD.lit(12).hex, fine=True)
    yield from pen.box(Box.between(x1 + 330, top + 52, x2 - 330, top + 134), fine=True)
    yield element(
        "circle",
        cx=box.centre[0],
        cy=top + 93,
        r=13,
        fill="none",
        stroke=GRAPHITE,
        stroke_width=pen.width * 0.7,
    )
    yield pen.shade(Box.between(x1 + 52, top + 34, x2 - 52, top + 58), pitch=20)
    yield from pen.box(Box.between(x1, top, x2, top + 32), _WOOD.lit(25).hex)


def _chair(box: Box, pen: Pen) -> Iterator[Markup]:
    x1, x2, top, floor = box.x, box.right, box.y, box.bottom
    seat, wood = floor - 450, _WOOD.lit(8)
    posts = ((x1 + 28, x1 + 62), (x2 - 62, x2 - 28))
    for y, high in ((top + 30, 84), (top + 170, 46), (top + 270, 46)):
        yield from pen.box(Box.between(x1 + 60, y, x2 - 60, y + high), wood.lit(15).hex, fine=True)
    for left, right in posts:
        yield pen.outline(_rounded(left, top, right, seat + 12, (14, 2)), wood.hex)
    yield from _filled_legs(_legs((x1 + 88, x2 - 88), seat + 40, floor, 32), pen, wood.lit(-22))
    yield from pen.box(Box.between(x1 + 50, floor - 190, x2 - 50, floor - 160), wood.hex, fine=True)
    yield from _filled_legs(_legs((x1 + 32, x2 - 32), seat + 40, floor, 42), pen, wood)
    yield pen.outline(_rounded(x1, seat, x2, seat + 46, (16, 8)), wood.lit(30).hex)
    yield pen.shade(Box.between(x1 + 54, seat + 48, x2 - 54, seat + 92), pitch=18)


def _door(box: Box, pen: Pen) -> Iterator[Markup]:
    casing = coordinate(CASING)
    leaf = Box.between(box.x + casing, box.y + casing, box.right - casing, box.bottom)
    yield from pen.box(box, _PAINT.hex)
    mitres = (((box.x, box.y), (leaf.x, leaf.y)), ((box.right, box.y), (leaf.right, leaf.y)))
    yield pen.strokes(*mitres, fine=True)
    yield from pen.box(leaf, _PAINT.lit(-5).hex)
    left, right = leaf.x + 120, leaf.right - 120
    for top, bottom in ((leaf.y + 130, leaf.y + 1010), (leaf.y + 1150, leaf.bottom - 210)):
        yield from _panel(Box.between(left, top, right, bottom), pen)
    x, y = leaf.x + 62, leaf.bottom - 1050
    yield from pen.box(Box.between(x - 18, y - 80, x + 18, y + 90), _WOOD.lit(10).hex, fine=True)
    yield pen.outline(_rounded(x - 10, y - 11, x + 118, y + 11, (10, 10)), _WOOD.hex)


def _panel(box: Box, pen: Pen) -> Iterator[Markup]:
    yield from pen.box(box, fine=True)
    inner = box.inset(34)
    yield from pen.box(inner, _PAINT.lit(30).hex, fine=True)
    yield pen.shade(Box.between(box.x, box.y, box.right, inner.y), pitch=24)
    yield pen.shade(Box.between(box.x, inner.y, inner.x, box.bottom), pitch=24)


_DRAWN: dict[Thing, tuple[Callable[[Box, Pen], Iterator[Markup]], bool]] = {
    Thing.SOFA: (_sofa, True),
    Thing.TABLE: (_table, True),
    Thing.CHAIR: (_chair, True),
    Thing.DOOR: (_door, False),
}
"""How each is drawn, and whether it stands on legs and throws a shadow on the floor."""
