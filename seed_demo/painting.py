"""Paints watercolours by code: washes with granulation and darker edges on rough paper, the same every time.

A place in a picture is two shares, across and down, of its width and height.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from random import Random

from PIL import Image, ImageChops, ImageDraw, ImageFilter

type Place = tuple[float, float]

type Touch = tuple[Place, float, float]
"""The middle of a touch of the brush, and how wide and how high it is in pixels."""

PAPER = "#f7f3e8"

LONGER = 900
"""Pixels of the longer side."""

_MARGIN = 40
"""Pixels of bare paper about the picture."""

_FINE = 0.0
"""The border of a stroke so fine that the grain of the paper would break it."""

_WET = 8.0
"""Pixels from which a border is soft enough to run out wet in wet."""


@dataclass(frozen=True, slots=True)
class Wash:
    """How paint is laid on.

    strength: how much of the colour stays, 0 to 1. soft: how soft its border is, in pixels; from 8 it runs out wet in wet. edge: how much
    darker it dries at its border. body: how much of it covers what is beneath, instead of letting it through.
    """

    strength: float = 0.9
    soft: float = 1.5
    edge: float = 0.5
    body: float = 0.45

    def dried(self, shape: Image.Image) -> Image.Image:
        """Return how much of it stays where."""
        middle = self.strength * (1 - self.edge * 0.2)
        flat = shape.point(lambda value: round(value * middle))
        if not self.edge:
            return flat
        inner = shape.filter(ImageFilter.BoxBlur(5))
        rim = ImageChops.subtract(shape, inner).point(lambda value: round(value * 1.2 * self.edge))
        return ImageChops.add(flat, rim)


_GRADED = Wash(strength=1, soft=_WET, edge=0)
_LINE = Wash(strength=0.85, soft=_FINE, edge=0, body=0.9)


class PaintedSheet:
    """A sheet of paper that is painted on."""

    def __init__(self, width: int, height: int, seed: int) -> None:
        scale = LONGER / max(width, height)
        self.size = (round(width * scale), round(height * scale))
        self._random = Random(seed)
        self._image = Image.new("RGB", self.size, PAPER)
        self._tooth = self._noise(2, 232, 255)
        self._pools = self._noise(60, 222, 255)
        self._wobble = self._noise(9, 70, 186)

    def wash(self, outline: Iterable[Place], colour: str, how: Wash = Wash()) -> None:
        """Lay a wash within an outline."""
        mask = Image.new("L", self.size)
        ImageDraw.Draw(mask).polygon([self._at(place) for place in outline], fill=255)
        self._lay(mask, colour, how)

    def ground(self, top: Sequence[Place], down_to: float, colour: str, how: Wash = Wash()) -> None:
        """Lay a wash from a line of heights down to a level one."""
        self.wash([(top[0][0], down_to), *top, (top[-1][0], down_to)], colour, how)

    def fade(self, top: float, bottom: float, colour: str, strength: float = 1) -> None:
        """Lay a graded wash between two heights, strongest at the first of them."""
        upper, lower = (self._at((0, share))[1] for share in (min(top, bottom), max(top, bottom)))
        grade = Image.linear_gradient("L").resize((self.size[0], lower - upper))
        if top < bottom:
            grade = grade.transpose(Image.Transpose.FLIP_TOP_BOTTOM)
        mask = Image.new("L", self.size)
        mask.paste(grade.point(lambda value: round(value * strength)), (0, upper))
        self._lay(mask, colour, _GRADED)

    def stroke(self, places: Sequence[Place], colour: str, wide: float) -> None:
        """Draw a line with the brush, so many pixels wide."""
        mask = Image.new("L", self.size)
        ImageDraw.Draw(mask).line(
            [self._at(place) for place in places],
            fill=255,
            width=max(round(wide), 1),
            joint="curve",
        )
        self._lay(mask, colour, _LINE)

    def dabs(self, touches: Iterable[Touch], colour: str, strength: float) -> None:
        """Set rounded touches of the brush."""
        mask = Image.new("L", self.size)
        for touch in touches:
            ImageDraw.Draw(mask).ellipse(self._about(touch), fill=255)
        self._lay(mask, colour, Wash(strength=strength, soft=0.5, edge=0.15, body=0.9))

    def panes(self, touches: Iterable[Touch], colour: str) -> None:
        """Set rectangles, as windows."""
        mask = Image.new("L", self.size)
        for touch in touches:
            ImageDraw.Draw(mask).rectangle(self._about(touch), fill=255)
        self._lay(mask, colour, _LINE)

    def scattered(self, count: int, within: tuple[float, float, float, float]) -> list[Place]:
        """Return places by chance between left, top, right and bottom."""
        left, top, right, bottom = within
        return [(self.between(left, right), self.between(top, bottom)) for _ in range(count)]

    def between(self, least: float, most: float) -> float:
        """Return a number by chance."""
        return self._random.uniform(least, most)

    def finished(self) -> Image.Image:
        """Return the picture with its bare margin and the grain of the paper."""
        mask = Image.new("L", self.size)
        right, bottom = (side - _MARGIN for side in self.size)
        ImageDraw.Draw(mask).rectangle((_MARGIN, _MARGIN, right, bottom), fill=255)
        mask = _wavering(mask, self._wobble, 1)
        painted = Image.composite(self._image, Image.new("RGB", self.size, PAPER), mask)
        grain = self._tooth.point(lambda value: 255 - (255 - value) // 2)
        return ImageChops.multiply(painted, Image.merge("RGB", (grain, grain, grain)))

    def _at(self, place: Place) -> tuple[int, int]:
        return round(place[0] * self.size[0]), round(place[1] * self.size[1])

    def _about(self, touch: Touch) -> tuple[float, float, float, float]:
        place, wide, high = touch
        x, y = self._at(place)
        return (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)

    def _noise(self, coarse: int, least: int, most: int) -> Image.Image:
        """Return chance in spots of so many pixels, between two shades."""
        width, height = (max(side // coarse, 2) for side in self.size)
        spots = Image.frombytes("L", (width, height), self._random.randbytes(width * height))
        smooth = spots.resize(self.size, Image.Resampling.BICUBIC)
        return smooth.point(lambda value: least + value * (most - least) // 255)

    def _lay(self, mask: Image.Image, colour: str, how: Wash) -> None:
        """Put paint where a mask is, as it dries on the grain of the paper."""
        reach = round(2 * how.soft) + 8
        left, top, right, bottom = mask.getbbox() or (0, 0, 1, 1)
        box = (
            max(left - reach, 0),
            max(top - reach, 0),
            min(right + reach, self.size[0]),
            min(bottom + reach, self.size[1]),
        )
        shape = _wavering(mask.crop(box), self._wobble.crop(box), how.soft)
        under = self._image.crop(box)
        flat = Image.new("RGB", under.size, colour)
        glazed = Image.blend(ImageChops.multiply(under, flat), flat, how.body)
        grain = ImageChops.multiply(self._pools.crop(box), self._tooth.crop(box))
        pigment = ImageChops.multiply(how.dried(shape), grain)
        self._image.paste(Image.composite(glazed, under, pigment), box[:2])


def _wavering(mask: Image.Image, wobble: Image.Image, soft: float) -> Image.Image:
    """Return a mask whose border follows the grain of the paper; one that is very soft runs out, wet in wet."""
    if soft == _FINE:
        return mask.filter(ImageFilter.BoxBlur(0.6))
    if soft >= _WET:
        return mask.filter(ImageFilter.GaussianBlur(soft))
    blurred = mask.filter(ImageFilter.BoxBlur(1.5 + soft))
    uneven = ImageChops.add(blurred, wobble, offset=-128)
    steep = 255 / (60 + 40 * soft)
    return uneven.point(lambda value: max(0, min(255, round((value - 90) * steep))))
