"""Colours in exact arithmetic, so that a drawing is the same on every machine."""

import re
from dataclasses import dataclass

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
