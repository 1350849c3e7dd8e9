"""Four corners of an artwork on its photo, and the rectangle that is made of them."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageDraw

from app.errors import Invalid
from app.orders.photo_corners import Corners
from app.services.picture_making import straightened
from app.services.picture_worker import answer, made_from, question
from tests.builders.photos import BLUE, GREEN, RED, WHITE, close, colour_at, file_of, photo

SQUARE = Corners(((10, 10), (90, 10), (90, 90), (10, 90)))


def through(coefficients: tuple[float, ...], u: float, v: float) -> tuple[float, float]:
    a, b, c, d, e, f, g, h = coefficients
    below = g * u + h * v + 1
    return (a * u + b * v + c) / below, (d * u + e * v + f) / below


def test_a_perspective_worked_by_hand() -> None:
    """The trapezium 0,0 4,0 3,2 1,2 of the square of one: the sum of its corners is 0 - 4 + 3 - 1 = -2 across and
    0 - 0 + 2 - 2 = 0 down; the sides from the right bottom corner are 1,-2 and -2,0, so below = 1*0 - (-2)(-2) = -4,
    g = (-2*0 - (-2)*0) / -4 = 0 and h = (1*0 - (-2)(-2)) / -4 = 1, so that b = 1 - 0 + 1*1 = 2 and e = 2 - 0 + 1*2 = 4. Its
    middle comes to (4 + 2) / 2 / 1.5 = 2 across and 4 / 2 / 1.5 = 4/3 down: what is farther away is smaller.
    """
    corners = Corners(((0, 0), (4, 0), (3, 2), (1, 2)))
    found = corners.coefficients(1, 1)
    assert found == pytest.approx((4, 2, 0, 0, 4, 0, 0, 1))
    assert through(found, 0.5, 0.5) == pytest.approx((2, 4 / 3))


def test_straight_corners_only_move_and_stretch() -> None:
    assert SQUARE.coefficients(40, 80) == pytest.approx((2, 0, 10, 0, 1, 10, 0, 0))


@given(
    st.tuples(*(st.tuples(st.integers(0, 30), st.integers(0, 30)) for _ in range(4))),
    st.integers(20, 400),
    st.integers(20, 400),
)
def test_corners_come_to_corners_and_lines_stay_lines(
    off: tuple[tuple[int, int], ...], width: int, height: int
) -> None:
    (a, b), (c, d), (e, f), (g, h) = off
    corners = Corners(((a, b), (100 - c, d), (100 - e, 100 - f), (g, 100 - h)))
    corners.check(100, 100)
    found = corners.coefficients(width, height)
    ends = ((0, 0), (width, 0), (width, height), (0, height))
    for (u, v), point in zip(ends, corners.points, strict=True):
        assert through(found, u, v) == pytest.approx(point, abs=1e-6)
    along = [through(found, width * part / 4, height * part / 4) for part in range(5)]
    (x0, y0), (x1, y1) = along[0], along[-1]
    for x, y in along:
        assert (x - x0) * (y1 - y0) == pytest.approx((y - y0) * (x1 - x0), abs=1e-4)
    assert all(near != far for near, far in pairwise(along))


def slanting() -> bytes:
    """A sheet of four colours seen from the side, on grey: its right side is the farther one."""
    image = Image.new("RGB", (400, 300), (120, 120, 120))
    draw = ImageDraw.Draw(image)
    # The rectangle 4 x 3 seen with the right side half as high. In such a perspective the middle of the width lies at two
    # thirds of the way (1 : 2 divides it as the heights do), at 40 + 2/3 * 300 = 240; there the sheet is 2 * 240 * 120 /
    # (240 + 120) = 160 high, the harmonic mean, from 70 to 230.
    draw.polygon(((40, 30), (240, 70), (240, 150), (40, 150)), fill=RED)
    draw.polygon(((240, 70), (340, 90), (340, 150), (240, 150)), fill=GREEN)
    draw.polygon(((40, 150), (240, 150), (240, 230), (40, 270)), fill=BLUE)
    draw.polygon(((240, 150), (340, 150), (340, 210), (240, 230)), fill=WHITE)
    return file_of(image, "PNG")


SLANTING = Corners(((40, 30), (340, 90), (340, 210), (40, 270)))


def test_marks_are_found_back_where_they_were() -> None:
    made = straightened(slanting(), SLANTING, Fraction(4, 3))
    assert made.width / made.height == pytest.approx(4 / 3, abs=0.01)
    for x, y, wanted in (
        (0.03, 0.03, RED), (0.47, 0.47, RED), (0.53, 0.47, GREEN), (0.97, 0.03, GREEN),
        (0.03, 0.97, BLUE), (0.47, 0.53, BLUE), (0.53, 0.53, WHITE), (0.97, 0.97, WHITE),
    ):  # fmt: skip
        assert close(colour_at(made.content, x, y), wanted, by=3), (x, y)


def test_without_a_size_the_corners_say_the_proportion() -> None:
    """Sides: 240 left, 120 right; top and bottom the root of 300² + 60² = 305.9."""
    assert SLANTING.size(None, 1600) == (306, 240)
    assert SLANTING.size(Fraction(1, 2), 1600) == (306, 612)
    assert SLANTING.size(Fraction(4), 1600) == (960, 240)
    assert SLANTING.size(Fraction(4), 480) == (480, 120)


def test_a_quarter_turn_is_clockwise_and_four_are_none() -> None:
    whole = Corners.of_whole(80, 60)
    made = straightened(photo(80, 60, "PNG"), whole.turned(), None)
    assert (made.width, made.height) == (60, 80)
    found = [
        colour_at(made.content, x, y) for x, y in ((0.2, 0.2), (0.8, 0.2), (0.2, 0.8), (0.8, 0.8))
    ]
    assert found == [BLUE, RED, WHITE, GREEN]
    assert whole.turned().turned().turned().turned() == whole


def test_corners_are_kept_as_text() -> None:
    assert SLANTING.text == "40,30 340,90 340,210 40,270"
    assert Corners.read(SLANTING.text) == SLANTING


@pytest.mark.parametrize(
    "text", ["", "1,2", "1,2 3,4 5,6 a,b", "1,2 3,4 5,6 7,8 9,10", "1,2,3,4,5,6,7"]
)
def test_other_text_is_no_corners(text: str) -> None:
    with pytest.raises(ValueError, match=r".*"):
        Corners.read(text)


def test_a_press_moves_the_nearest_corner() -> None:
    assert SQUARE.with_nearest((80, 20)).points == ((10, 10), (80, 20), (90, 90), (10, 90))


@pytest.mark.parametrize(
    ("points", "said"),
    [
        (((10, 10), (90, 90), (90, 10), (10, 90)), "cross"),
        (((10, 10), (90, 10), (30, 30), (10, 90)), "lies within"),
        (((90, 10), (10, 10), (10, 90), (90, 90)), "from behind"),
        (((10, 10), (120, 10), (90, 90), (10, 90)), "The right top corner, 120 across and 10 down"),
        (((10, 10), (90, 10), (90, 90), (-1, 90)), "The left bottom corner, -1 across"),
        (((10, 10), (12, 12), (90, 90), (10, 90)), "8 pixels apart"),
        (((10, 10), (50, 10), (90, 10), (10, 90)), "lies within"),
    ],
)
def test_corners_of_no_rectangle_are_refused_in_words(points: object, said: str) -> None:
    corners = Corners(points)  # type: ignore[arg-type]
    with pytest.raises(Invalid) as told:
        corners.check(100, 100)
    assert said in told.value.message
    assert told.value.faults[0].path == "corners"


def test_a_child_answers_as_it_is_asked() -> None:
    made = made_from(answered(question(photo(80, 60, "PNG"))))
    assert (made.width, made.height) == (80, 60)
    flat = made_from(answered(question(slanting(), SLANTING, Fraction(4, 3))))
    assert flat == straightened(slanting(), SLANTING, Fraction(4, 3))
    with pytest.raises(Invalid, match="no photo"):
        made_from(answered(question(b"words")))
    with pytest.raises(Invalid, match="cross"):
        made_from(answered(question(slanting(), Corners(((0, 0), (90, 90), (90, 0), (0, 90))))))


def answered(line: str) -> str:
    import json  # noqa: PLC0415 - what the child prints

    return json.dumps(answer(line))
