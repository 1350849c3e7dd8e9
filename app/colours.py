"""Colours: in exact arithmetic, so that a drawing is the same on every machine, and as they are seen, to tell which are near.

Which colour is how far from another one is the one thing here that is worked out in binary fractions; nothing is drawn by it.
"""

import re
from dataclasses import dataclass
from functools import cache, lru_cache
from math import atan2, cbrt, cos, exp, hypot, pi, sin, sqrt

from app.errors import Invalid

_HEX = re.compile(r"#?([0-9a-fA-F]{3}|[0-9a-fA-F]{6})")


@dataclass(frozen=True, slots=True, kw_only=True)
class Colour:
    """Red, green and blue, each 0 to 255."""

    red: int
    green: int
    blue: int

    def __post_init__(self) -> None:
        for part in self.parts:
            if not 0 <= part <= 255:
                raise Invalid.at("colour", f"A part of a colour is {part}; 0 to 255 is allowed.")

    @classmethod
    def parse(cls, text: str, path: str = "colour") -> "Colour":
        """Return a colour from "#5a3f2b" or "#543". Raises: Invalid for anything else."""
        found = _HEX.fullmatch(text.strip())
        if found is None:
            raise Invalid.at(
                path, f"“{text[:40]}” is no colour; give three pairs of hex digits, as #5a3f2b."
            )
        digits = found[1] if len(found[1]) == 6 else "".join(digit * 2 for digit in found[1])
        red, green, blue = (int(digits[at : at + 2], 16) for at in (0, 2, 4))
        return cls(red=red, green=green, blue=blue)

    @property
    def parts(self) -> tuple[int, int, int]:
        """The red, green and blue parts."""
        return (self.red, self.green, self.blue)

    @property
    def hex(self) -> str:
        """The colour as "#rrggbb"."""
        return f"#{self.red:02x}{self.green:02x}{self.blue:02x}"

    @property
    def luma(self) -> int:
        """The perceived lightness, 0 to 255. Source: ITU-R BT.601 weights, in whole thousandths."""
        return (self.red * 299 + self.green * 587 + self.blue * 114) // 1000

    def mixed(self, other: "Colour", percent: int) -> "Colour":
        """Return this colour with so many whole percent of another in it, each part rounded half up."""
        red, green, blue = (
            (mine * (100 - percent) + its * percent + 50) // 100
            for mine, its in zip(self.parts, other.parts, strict=True)
        )
        return Colour(red=red, green=green, blue=blue)

    def lit(self, percent: int) -> "Colour":
        """Nearer to warm white for a positive percentage, to warm black for a negative one."""
        return self.mixed(LIGHT if percent > 0 else SHADE, min(abs(percent), 100))


LIGHT = Colour(red=255, green=250, blue=240)
SHADE = Colour(red=12, green=8, blue=4)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lab:
    """A colour as it is seen: how light it is (0 to 100), from green to red, and from blue to yellow.

    Source: CIE 15:2004, CIELAB, under the daylight of sRGB.
    """

    light: float
    red: float
    yellow: float

    @property
    def chroma(self) -> float:
        """How far it is from grey."""
        return hypot(self.red, self.yellow)


_DAYLIGHT = (0.3127 / 0.3290, 1.0, (1 - 0.3127 - 0.3290) / 0.3290)
"""White of sRGB as X, Y, Z. Source: IEC 61966-2-1, the chromaticity of its daylight."""

_XYZ = (
    (0.4123907992659595, 0.35758433938387796, 0.1804807884018343),
    (0.21263900587151036, 0.7151686787677559, 0.07219231536073371),
    (0.01933081871559185, 0.11919477979462599, 0.9505321522496606),
)
"""From linear red, green, blue to X, Y, Z. Source: worked out from the primaries and the white of IEC 61966-2-1."""


@lru_cache(maxsize=4096)
def lab_of(colour: Colour) -> Lab:
    """Return a colour as it is seen; those of a price book are remembered. Source: IEC 61966-2-1, CIE 15:2004."""
    linear = tuple(map(_linear, colour.parts))
    x, y, z = (
        _root(sum(share * part for share, part in zip(row, linear, strict=True)) / white)
        for row, white in zip(_XYZ, _DAYLIGHT, strict=True)
    )
    return Lab(light=116 * y - 16, red=500 * (x - y), yellow=200 * (y - z))


@cache
def _linear(part: int) -> float:
    share = part / 255
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


def _root(share: float) -> float:
    return cbrt(share) if share > 216 / 24389 else (24389 / 27 * share + 16) / 116


_SEVENTH = 25.0**7
_TURN = 2 * pi


def difference(one: Lab, other: Lab) -> float:
    """Return how far two colours are apart for an eye: 1 is just seen, side by side; black and white are 100 apart.

    Source: CIEDE2000 (ISO/CIE 11664-6) with all weights 1, by Sharma, Wu, Dalal (2005), “The CIEDE2000 Color-Difference
    Formula: Implementation Notes, Supplementary Test Data, and Mathematical Observations”.
    """
    stretch = 1.5 - 0.5 * _share_of_seventh((one.chroma + other.chroma) / 2)
    first, second = one.red * stretch, other.red * stretch
    chroma, chroma_of_other = hypot(first, one.yellow), hypot(second, other.yellow)
    mean_chroma = (chroma + chroma_of_other) / 2
    hue, hue_of_other = atan2(one.yellow, first) % _TURN, atan2(other.yellow, second) % _TURN
    turn, mean_hue = hue_of_other - hue, hue + hue_of_other
    if not chroma * chroma_of_other:
        turn = 0.0
    elif abs(turn) <= pi + _HAIR:
        mean_hue /= 2
    else:
        turn += -_TURN if turn > 0 else _TURN
        mean_hue = (mean_hue + (_TURN if mean_hue < _TURN else -_TURN)) / 2
    lightness = ((one.light + other.light) / 2 - 50) ** 2
    by_hue = (
        1
        - 0.17 * cos(mean_hue - pi / 6)
        + 0.24 * cos(2 * mean_hue)
        + 0.32 * cos(3 * mean_hue + pi / 30)
        - 0.20 * cos(4 * mean_hue - 63 * pi / 180)
    )
    in_light = (other.light - one.light) / (1 + 0.015 * lightness / sqrt(20 + lightness))
    in_chroma = (chroma_of_other - chroma) / (1 + 0.045 * mean_chroma)
    in_hue = 2 * sqrt(chroma * chroma_of_other) * sin(turn / 2) / (1 + 0.015 * mean_chroma * by_hue)
    blue = pi / 3 * exp(-(((mean_hue * 180 / pi - 275) / 25) ** 2))
    twist = -2 * _share_of_seventh(mean_chroma) * sin(blue)
    return sqrt(in_light**2 + in_chroma**2 + in_hue**2 + twist * in_chroma * in_hue)


_HAIR = 1e-12
"""By which two hues may be more than half a turn apart and still count as opposite: the rounding of a binary fraction."""


def _share_of_seventh(chroma: float) -> float:
    seventh = chroma**7
    return sqrt(seventh / (seventh + _SEVENTH))


_CALLED = {
    "white": "#fafafa #f4f4f2",
    "cream": "#f3ead2 #ece0bf #fbf6d6",
    "light grey": "#d2d2d0 #bfc1c1",
    "grey": "#9a9b9b #7d7f80",
    "dark grey": "#5a5c5d #454748",
    "black": "#1a1a1a #282828 #000000",
    "beige": "#d8c8a6 #cbb893 #e0d2b6 #ddcfc2 #e7d7c4",
    "pale grey-brown": "#b7a99a #c4b8aa",
    "grey-brown": "#998b7d #86796c",
    "dark grey-brown": "#6b6158 #564d45",
    "tan": "#b89b70 #a98a5f",
    "brown": "#7d5a39 #6d4c34 #8b5a3a",
    "dark brown": "#4a3222 #3a281d",
    "pale red": "#e39a90 #d98a84",
    "red": "#d02a26 #b8342c #e8403a",
    "dark red": "#7c1f20 #5c1a1d",
    "wine red": "#704a5a #5e2a3a #82364c",
    "pale rust": "#c08a78 #cf9d88",
    "rust": "#b4552d #a45a42 #c2683c",
    "pink": "#f0b8c0 #e890a4 #f7d6d8 #e8b3ae",
    "orange": "#f08a24 #e87530 #f59d1e",
    "pale orange": "#f6c496 #efb27e",
    "golden yellow": "#f0b03c #ffb84a #e9a83b",
    "ochre": "#c39a3e #b08430",
    "yellow": "#f4d32e #e8c530",
    "pale yellow": "#f7eaa2 #efe08c",
    "pale olive": "#b3b48c #c2c3a0 #bab586",
    "olive": "#7d7a35 #64602c #a3a05e #929056",
    "dark olive": "#4a4722",
    "yellow-green": "#a8bc3e #b9cc62",
    "green": "#2f8f3e #4a9a50 #3a7d38",
    "dark green": "#1f4f2c #2a4030 #0c5c14",
    "pale green": "#b9d6ae #a5c69c #c6d2b4",
    "pale grey-green": "#b9bfa6 #c8c8b4 #d2d4c2 #b4c0b0",
    "grey-green": "#8d9a80 #76866e #9a9c74 #a0a688",
    "dark grey-green": "#5f6b52 #46523c #3f4a3a",
    "grey blue-green": "#87a19a #6f8a86",
    "blue-green": "#1f8a86 #3aa39a #2a7470",
    "pale blue-green": "#a9d0ca #a9c1bd",
    "blue": "#2a5fb4 #3a78c8 #4668a0 #2222e6",
    "dark blue": "#1d2f5c #32435b #16224a",
    "pale blue": "#a9c8e6 #bcd4ea #8fb4dc",
    "grey-blue": "#6b8299 #7f93a4",
    "pale grey-blue": "#a3b5c2 #94a8b8",
    "dark grey-blue": "#3c4c5c #4c6070 #45475c",
    "pale grey-purple": "#b8aebf #a9a2b6 #c6bfcc",
    "grey-purple": "#8c85a0 #8c8a9c #7f7a92 #8a7f94 #6f6888",
    "dark grey-purple": "#514c60 #5f586e",
    "purple": "#6a3a8e #80509e #54306c",
    "pale purple": "#c4aed8 #ad96c6 #d8c0d0",
    "dark purple": "#36204a #5b4a6a",
    "magenta": "#b8327a #d0408e",
    "pale dusky pink": "#d9a9a0 #d2b4b4 #c9a9b0",
    "dusky pink": "#b98288 #a5727a",
}
"""Plain words for colours, each with some that it stands for. Source: ours, by eye."""


@cache
def _lab_of_words() -> tuple[tuple[str, Lab], ...]:
    return tuple(
        (word, lab_of(Colour.parse(shade)))
        for word, shades in _CALLED.items()
        for shade in shades.split()
    )


@lru_cache(maxsize=512)
def in_words(colour: Colour) -> str:
    """Return a plain word for a colour, for whoever does not see it or sees it otherwise: "pale blue", "rust"."""
    seen = lab_of(colour)
    word, _ = min(_lab_of_words(), key=lambda known: difference(seen, known[1]))
    return word
