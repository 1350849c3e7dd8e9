"""The four corners of an artwork on its photo, and the perspective that makes a rectangle of them.

Points are in pixels from the left top corner of the photo, y downwards; a pixel is a square whose middle lies at a half.
Pure: neither a picture nor a file is touched here.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import hypot
from typing import Self

from app.errors import Invalid

type Point = tuple[int, int]

NAMES = ("left top", "right top", "right bottom", "left bottom")
"""The corners of the artwork as it is to stand, in their order."""

SHORTEST_SIDE = 8
"""Pixels between two corners that follow each other; with fewer nothing is to be seen. Source: ours."""

_FINE = 10_000

AT = "corners"
"""The path of what is wrong with them."""


@dataclass(frozen=True, slots=True)
class Corners:
    """Where the corners of the artwork lie on its photo, in the order of `NAMES`: clockwise, as one looks at it."""

    points: tuple[Point, Point, Point, Point]

    @classmethod
    def of_whole(cls, width: int, height: int) -> Self:
        """Return those of the photo itself."""
        return cls(((0, 0), (width, 0), (width, height), (0, height)))

    @classmethod
    def read(cls, text: str) -> Self:
        """Return those that were kept as `text`. Raises: ValueError."""
        x0, y0, x1, y1, x2, y2, x3, y3 = (int(part) for part in text.replace(",", " ").split())
        return cls(((x0, y0), (x1, y1), (x2, y2), (x3, y3)))

    @property
    def text(self) -> str:
        """As they are kept: "12,10 310,18 ..."."""
        return " ".join(f"{x},{y}" for x, y in self.points)

    def turned(self) -> "Corners":
        """Return the same, of the artwork turned by a quarter, clockwise."""
        left_top, right_top, right_bottom, left_bottom = self.points
        return Corners((left_bottom, left_top, right_top, right_bottom))

    def with_nearest(self, point: Point) -> "Corners":
        """Return the same with the corner that is nearest to a point moved there."""
        away = [hypot(x - point[0], y - point[1]) for x, y in self.points]
        nearest = away.index(min(away))
        first, second, third, fourth = (
            point if number == nearest else own for number, own in enumerate(self.points)
        )
        return Corners((first, second, third, fourth))

    @property
    def sides(self) -> Iterator[float]:
        """Yield the length of the sides: top, right, bottom, left."""
        for (x, y), (next_x, next_y) in self._pairs:
            yield hypot(next_x - x, next_y - y)

    @property
    def _pairs(self) -> Iterator[tuple[Point, Point]]:
        return zip(self.points, (*self.points[1:], self.points[0]), strict=True)

    def check(self, width: int, height: int) -> None:
        """Raises: Invalid where no rectangle can be made of them on a photo of so many pixels."""
        for name, (x, y) in zip(NAMES, self.points, strict=True):
            if not (0 <= x <= width and 0 <= y <= height):
                raise Invalid.at(
                    AT,
                    f"The {name} corner, {x} across and {y} down, lies beside the photo, which is {width} wide and "
                    f"{height} high.",
                )
        if min(self.sides) < SHORTEST_SIDE:
            raise Invalid.at(
                AT, f"Two corners lie on each other; they have to be {SHORTEST_SIDE} pixels apart."
            )
        turns = [_turn(*ends) for ends in self._corners_with_neighbours]
        if all(turn < 0 for turn in turns):
            raise Invalid.at(
                AT,
                "The corners go round the wrong way, which would show the artwork from behind. Give them clockwise, "
                "from the left top one.",
            )
        if not all(turn > 0 for turn in turns):
            raise Invalid.at(
                AT,
                "The corners cross, or one lies within the others. Give them clockwise, from the left top one.",
            )

    @property
    def _corners_with_neighbours(self) -> Iterator[tuple[Point, Point, Point]]:
        first, second, third, fourth = self.points
        yield fourth, first, second
        yield first, second, third
        yield second, third, fourth
        yield third, fourth, first

    @property
    def proportion(self) -> Fraction:
        """Width by height of what lies between them, as `size` has it without a proportion."""
        return Fraction(*self.size(None, _FINE))

    def same_as(self, other: "Corners") -> bool:
        """Tell whether they are the same points, whichever is named first."""
        return set(self.points) == set(other.points)

    def size(self, proportion: Fraction | None, most: int) -> tuple[int, int]:
        """Return width and height in pixels of the rectangle that they come to.

        proportion: width by height; None for that of the corners themselves. most: pixels of the long side.
        """
        top, right, bottom, left = self.sides
        width, height = max(top, bottom), max(right, left)
        if proportion is not None:
            width = max(width, height * float(proportion))
            height = width / float(proportion)
        shrunk = min(1.0, most / max(width, height))
        return max(1, round(width * shrunk)), max(1, round(height * shrunk))

    def coefficients(self, width: int, height: int) -> tuple[float, ...]:
        """Return a ... h of the perspective that leads from a rectangle of so many pixels to the photo.

        x = (a u + b v + c) / (g u + h v + 1), y = (d u + e v + f) / (g u + h v + 1). Expects corners that were checked.
        Source: P. Heckbert, Fundamentals of Texture Mapping and Image Warping, 1989, 2.2.3, from the unit square to a
        quadrilateral (from memory; tests hold that corners come to corners and lines stay lines).
        """
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self.points
        dx1, dx2, sum_x = x1 - x2, x3 - x2, x0 - x1 + x2 - x3
        dy1, dy2, sum_y = y1 - y2, y3 - y2, y0 - y1 + y2 - y3
        below = dx1 * dy2 - dx2 * dy1
        g = (sum_x * dy2 - dx2 * sum_y) / below
        h = (dx1 * sum_y - sum_x * dy1) / below
        of_square = (
            (x1 - x0 + g * x1, x3 - x0 + h * x3, x0),
            (y1 - y0 + g * y1, y3 - y0 + h * y3, y0),
        )
        ((a, b, c), (d, e, f)) = of_square
        return a / width, b / height, c, d / width, e / height, f, g / width, h / height


def _turn(before: Point, at: Point, after: Point) -> int:
    """Return which way the outline turns at a corner: above zero where clockwise."""
    return (at[0] - before[0]) * (after[1] - at[1]) - (at[1] - before[1]) * (after[0] - at[0])
