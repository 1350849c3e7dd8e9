"""Which few colours carry a picture, and which one stands at a place of it.

A picture has thousands of colours, and its mean is mud. So those that lie near each other are gathered, few and
far apart, with a small strong one among them: a red boat on a grey sea is what the eye goes to.
The same picture gives the same colours.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import cbrt

from PIL import Image

from app.colours import Colour, Lab, difference, lab_of

MOST = 6
"""Colours of a picture. Source: ours; more are not taken in at a glance."""

_SIDE = 96
"""Pixels of the longer side that a picture is looked at by. A spot of 2 % is then still above 100 of them. Source: ours."""

_STEP = 16
"""Parts of red, green and blue that count as one while they are gathered. Source: ours."""

_ALIKE = 11.0
"""So near, two groups are one colour of the picture. Source: ours, by eye."""

_LEAST = 1 / 150
"""The share of a picture below which a colour is a speck. Source: ours."""

_LEAST_STRONG, _STRONG = 1 / 500, 45.0
"""The same share for a colour that is so far from grey: a small sun is what the eye goes to. Source: ours, by eye."""

_PAPER_LIGHT, _PAPER_CHROMA = 86.0, 9.0
"""So light and so near to grey, a colour is that of bare paper, of which a margin is made. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Group:
    """Pixels of about one colour: how many, and the weights by which they count in it with the sums of their parts."""

    count: int
    weight: int
    sums: tuple[int, int, int]

    @classmethod
    def of(cls, pixels: Sequence["_Pixel"], weight: int = 1) -> "_Group":
        """Gather pixels that count alike."""
        red, green, blue = (weight * sum(parts) for parts in zip(*pixels, strict=True))
        return cls(count=len(pixels), weight=weight * len(pixels), sums=(red, green, blue))

    @property
    def colour(self) -> Colour:
        """Their mean, each part rounded half up."""
        red, green, blue = ((2 * total + self.weight) // (2 * self.weight) for total in self.sums)
        return Colour(red=red, green=green, blue=blue)

    def with_(self, other: "_Group") -> "_Group":
        """Return both as one."""
        red, green, blue = (a + b for a, b in zip(self.sums, other.sums, strict=True))
        return _Group(
            count=self.count + other.count,
            weight=self.weight + other.weight,
            sums=(red, green, blue),
        )

    def weighed(self) -> "_Group":
        """Return the same, weighed by how strong its colour is: what an eye remembers of a red roof is its red, not the mean
        of red and shadow. Source: ours, by eye.
        """
        weight = round((10 + lab_of(self.colour).chroma) ** 2 / 100)
        red, green, blue = (weight * total for total in self.sums)
        return _Group(count=self.count, weight=weight * self.weight, sums=(red, green, blue))


def colours_of(image: Image.Image) -> tuple[Colour, ...]:
    """Return up to six colours that carry a picture, the largest first and bare paper last."""
    pixels = _pixels(image, _SIDE).within
    groups = _gathered(_counted(pixels))
    large = [each for each in groups if each.count >= len(pixels) * _least_of(each)]
    chosen = _standing_out(large or groups[:1])
    return tuple(each.colour for each in sorted(chosen, key=_order))


def _least_of(group: _Group) -> float:
    return _LEAST_STRONG if lab_of(group.colour).chroma > _STRONG else _LEAST


def colour_at(image: Image.Image, across: float, down: float) -> Colour:
    """Return the colour about a place of a picture, given as shares of its width and height: the mean of a spot around it."""
    width, height = image.size
    reach = max(1, min(width, height) // 80)
    x, y = (
        min(max(round(share * side), 0), side - 1)
        for share, side in ((across, width), (down, height))
    )
    spot = (
        max(x - reach, 0),
        max(y - reach, 0),
        min(x + reach + 1, width),
        min(y + reach + 1, height),
    )
    pixels = _pixels(image.crop(spot), 2 * reach + 1).all
    return _Group.of(pixels).colour


type _Pixel = tuple[int, int, int]

_EDGE = 30
"""Steps of red, green and blue together from a pixel to each neighbour, above which it may be the blur of an edge. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pixels:
    """Pixels of a picture by rows, so many in each."""

    all: Sequence[_Pixel]
    across: int

    @property
    def within(self) -> Sequence[_Pixel]:
        """Those that are no blur of an edge, whose colour is in the picture nowhere; all where every pixel is one."""
        return [
            pixel for at, pixel in enumerate(self.all) if not self._is_blur(at, pixel)
        ] or self.all

    def _is_blur(self, at: int, pixel: _Pixel) -> bool:
        column = at % self.across
        beside = (at - 1, at + 1) if 0 < column < self.across - 1 else None
        above = (at - self.across, at + self.across)
        pairs = (beside, above if above[0] >= 0 and above[1] < len(self.all) else None)
        return any(
            pair is not None and _is_between(pixel, *(self.all[each] for each in pair))
            for pair in pairs
        )


def _is_between(pixel: _Pixel, one: _Pixel, other: _Pixel) -> bool:
    """Tell whether a pixel is far from both neighbours and on the way from one to the other."""
    first, second = _steps(pixel, one), _steps(pixel, other)
    return first > _EDGE and second > _EDGE and 10 * _steps(one, other) >= 9 * (first + second)


def _steps(one: _Pixel, other: _Pixel) -> int:
    return sum(abs(a - b) for a, b in zip(one, other, strict=True))


def _pixels(image: Image.Image, side: int) -> _Pixels:
    """Return the pixels of a small copy by rows, what is transparent on white."""
    small = image.copy()
    small.thumbnail((side, side), Image.Resampling.BOX)
    if small.mode != "RGB":
        laid = Image.new("RGB", small.size, "white")
        clear = small.convert("RGBA")
        laid.paste(clear, mask=clear.getchannel("A"))
        small = laid
    flat = small.tobytes()
    return _Pixels(
        all=list(zip(flat[::3], flat[1::3], flat[2::3], strict=True)), across=small.width
    )


def _counted(pixels: Sequence[_Pixel]) -> list[_Group]:
    """Return the pixels by cells of the cube of colours, the heaviest first."""
    cells: dict[_Pixel, list[_Pixel]] = defaultdict(list)
    for red, green, blue in pixels:
        cells[red // _STEP, green // _STEP, blue // _STEP].append((red, green, blue))
    groups = [_Group.of(each).weighed() for _, each in sorted(cells.items())]
    return sorted(groups, key=lambda each: -each.weight)


def _gathered(cells: Sequence[_Group]) -> list[_Group]:
    """Return groups that are no nearer to each other than `_ALIKE`, the largest first.

    A cell that is near none of the heaviest before it begins a group; then each comes to the nearest of those that began
    one, and groups that have come near each other are made one.
    """
    began: list[Lab] = []
    for cell in cells:
        seen = lab_of(cell.colour)
        if all(difference(seen, other) > _ALIKE for other in began):
            began.append(seen)
    found: dict[int, _Group] = {}
    for cell in cells:
        seen = lab_of(cell.colour)
        nearest = min(range(len(began)), key=lambda at: difference(seen, began[at]))
        found[nearest] = found[nearest].with_(cell) if nearest in found else cell
    return _merged(sorted(found.values(), key=lambda each: -each.count))


def _merged(groups: Sequence[_Group]) -> list[_Group]:
    apart: list[_Group] = []
    for group in groups:
        seen = lab_of(group.colour)
        like = next(
            (
                at
                for at, each in enumerate(apart)
                if difference(seen, lab_of(each.colour)) <= _ALIKE
            ),
            None,
        )
        if like is None:
            apart.append(group)
        else:
            apart[like] = apart[like].with_(group)
    return sorted(apart, key=lambda each: -each.count)


def _standing_out(groups: Sequence[_Group]) -> list[_Group]:
    """Return up to `MOST` groups: the largest, then again and again the one that is large and unlike those that are chosen.

    Large counts by the cube root of the area, so that a small strong colour goes before a large shade of what is there
    already. Source: ours, by eye.
    """
    chosen, left = [groups[0]], list(groups[1:])
    while left and len(chosen) < MOST:
        labs = [lab_of(each.colour) for each in chosen]
        best = max(
            left,
            key=lambda each: (
                cbrt(each.count) * min(difference(lab_of(each.colour), lab) for lab in labs)
            ),
        )
        chosen.append(best)
        left.remove(best)
    return chosen


def _order(group: _Group) -> tuple[bool, int]:
    lab = lab_of(group.colour)
    return (lab.light > _PAPER_LIGHT and lab.chroma < _PAPER_CHROMA, -group.count)
