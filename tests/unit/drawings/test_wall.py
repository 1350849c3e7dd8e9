"""Pieces drawn on a wall: each where it hangs, at its size, with what stands there to the same scale."""

import re
from itertools import pairwise

import pytest

from app.colours import Colour
from app.drawings import Look
from app.drawings.wall.colours import USUAL_WALL, WALL_COLOURS, WallColour
from app.drawings.wall.hanging import Hanging, ToHang, hang
from app.drawings.wall.things import Thing
from app.drawings.wall.wall import HungPiece, above_a_sofa, in_words, on_a_wall
from app.lengths import Size, Unit, mm
from tests.builders.drawn import many, of_class, read, sketch

CLAY = WALL_COLOURS[WallColour.CLAY][1]
PAIR = re.compile(r"(-?[\d.]+),(-?[\d.]+)")
PIECE = HungPiece(dimensions=sketch(), look=Look(kind="watercolour"))
"""Outside 603 × 490."""


def hanging(count: int = 1, **said) -> Hanging:
    sizes = (PIECE.dimensions.drawn_outside,) * count
    return hang(ToHang(sizes=sizes, unit=Unit.MM, gap=mm(60), **said))


def drawn(count: int = 1, colour: Colour = CLAY, **said):
    return read(on_a_wall(hanging(count, **said), (PIECE,) * count, colour))


def places(root) -> list[tuple[float, float]]:
    moved = [one.get("transform") for one in of_class(root, "on-wall")]
    found = [re.fullmatch(r"translate\((-?[\d.]+) (-?[\d.]+)\)", text) for text in moved]
    return [(float(one[1]), float(one[2])) for one in found]


def across_and_down(thing) -> tuple[float, float, float, float]:
    """What all filled parts of a thing take: left, right, top, foot."""
    filled = [one for one in thing.iter() if one.get("fill") not in (None, "none")]
    strokes = " ".join(one.get("points") or one.get("d") or "" for one in filled)
    xs, ys = zip(*(map(float, pair) for pair in PAIR.findall(strokes)), strict=True)
    return min(xs), max(xs), min(ys), max(ys)


def test_a_piece_stands_where_it_hangs_with_the_floor_at_zero():
    """Its middle at 1500: its top is 1745 up, its left side half of 603 from the middle."""
    assert places(drawn()) == [(-301.5, -1745)]
    assert places(drawn(2, rows=(2,))) == [(-633, -1745), (30, -1745)]


def test_what_stands_at_the_wall_is_to_the_same_scale():
    """A sofa 2000 × 800 about the middle; the piece 200 above it."""
    root = drawn(thing=Thing.SOFA)
    assert places(root) == [(-301.5, -1490)]
    [sofa] = of_class(root, "thing-sofa")
    assert across_and_down(sofa) == (-1000, 1000, -800, 0)


@pytest.mark.parametrize(
    ("thing", "width", "height"), [("table", 1200, 750), ("chair", 450, 850), ("door", 940, 2070)]
)
def test_table_chair_and_door_are_of_their_sizes(thing, width, height):
    [drawn_thing] = of_class(drawn(thing=Thing(thing)), f"thing-{thing}")
    left, right, top, foot = across_and_down(drawn_thing)
    assert right - left == pytest.approx(width)
    assert (top, foot) == (-height, 0)


def test_a_wall_that_is_given_is_shown_whole():
    root = drawn(wall=Size(mm(4000), mm(2500)))
    left, top, width, height = (float(n) for n in root.get("viewBox").split())
    assert left < -2000 < 2000 < left + width
    assert top < -2500
    assert top + height > 0


def test_a_wall_that_goes_on_shows_the_pieces_and_the_floor():
    root = drawn(3, thing=Thing.DOOR)
    left, top, width, height = (float(n) for n in root.get("viewBox").split())
    x, y = places(root)[0]
    assert left < x
    assert top < min(y, -2070)
    assert top + height > 0
    assert left + width > 3 * 603 / 2 + 60 + 350 + 940


def test_the_wall_has_its_colour_and_the_light_is_nearer_to_white():
    root = drawn()
    wall = of_class(root, "wash")[0]
    assert wall[0].get("fill") == CLAY.hex
    [light] = of_class(root, "light")
    shades = [Colour.parse(ring.get("fill")).luma for ring in light]
    assert shades == sorted(shades)
    assert shades[0] >= CLAY.luma
    assert all(after - before <= 2 for before, after in pairwise(shades))
    assert shades[-1] > CLAY.luma


@pytest.mark.parametrize("thing", Thing)
def test_it_is_one_image_that_says_what_it_shows_and_has_nothing_inline(thing):
    root = drawn(3, thing=thing)
    assert root.get("role") == "img"
    assert root[0].text == in_words(hanging(3, thing=thing))
    for one in root.iter():
        assert {"style", "id", "onload", "onclick"}.isdisjoint(one.attrib)
        assert one.tag.rpartition("}")[2] not in {"style", "script", "foreignObject", "use", "text"}


def test_words_say_where_the_pieces_hang():
    assert in_words(hanging()) == "1 picture on a wall"
    assert in_words(hanging(3, thing=Thing.SOFA)) == "3 pictures on a wall above a sofa"
    assert in_words(hanging(2, thing=Thing.DOOR)) == "2 pictures on a wall beside a door"


def test_the_same_wall_is_drawn_the_same():
    assert on_a_wall(hanging(), (PIECE,), CLAY) == on_a_wall(hanging(), (PIECE,), CLAY)


@pytest.mark.parametrize("name", many())
def test_every_piece_can_be_seen_above_a_sofa(name):
    dimensions = many()[name]
    root = read(above_a_sofa(dimensions, Look()))
    [(left, top)] = places(root)
    outside = dimensions.drawn_outside
    assert left == pytest.approx(-float(outside.width.mm) / 2, abs=0.01)
    distance = 203.2 if dimensions.spec.unit is Unit.IN else 200
    assert top == pytest.approx(-800 - distance - float(outside.height.mm), abs=0.01)
    assert of_class(root, "wash")[0][0].get("fill") == WALL_COLOURS[USUAL_WALL][1].hex
