"""What stands at a place along a side: a figure, with signs, and lesser figures after or under it."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.drawings.canvas.lettering import width_of
from app.drawings.canvas.symbols import Sign

LESSER = 0.9
"""How large the figures after the first one are; the first is 1."""

_GAP = 0.35
"""Letter heights between the parts of one reading."""

_ABOVE, _BELOW = -0.48, 0.62
"""Letter heights off the middle of a reading in two lines."""


@dataclass(frozen=True, slots=True)
class ReadingPart:
    """A figure, or none, with the sign that stands before it, if any."""

    text: str = ""
    sign: Sign | None = None

    def sign_room(self, font: float) -> float:
        """Tell how far its sign reaches outwards."""
        return self.sign.room * font if self.sign else 0.0

    def room(self, font: float) -> float:
        """Tell how far it reaches outwards."""
        return self.sign_room(font) + width_of(self.text, font)


@dataclass(frozen=True, slots=True)
class PlacedReading:
    """A part in its place: off the reading's middle, out from where it begins, at a letter height.

    aside: of its figure; its sign stands in the middle unless it has lesser letters.
    """

    part: ReadingPart
    aside: float
    out: float
    font: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A place along a side. reach: how far inside the edge the measured thing lies.

    parts: what stands beside it, the first one next to the edge.
    """

    at: float
    parts: tuple[ReadingPart, ...]
    reach: float = 0.0

    @property
    def signed(self) -> bool:
        """Whether it has any sign."""
        return any(part.sign for part in self.parts)

    def placed(self, font: float, *, two_lines: bool) -> Iterator[PlacedReading]:
        """Yield its parts outwards one after the other, or the lesser ones under the first."""
        first, *lesser = self.parts
        under = two_lines and bool(lesser)
        yield PlacedReading(first, font * _ABOVE if under else 0.0, 0.0, font)
        out = first.sign_room(font) if under else first.room(font) + font * _GAP
        small = font * LESSER
        for part in lesser:
            yield PlacedReading(part, font * _BELOW if under else 0.0, out, small)
            out += part.room(small) + font * _GAP

    def long(self, font: float, *, two_lines: bool) -> float:
        """Tell how far its parts reach outwards."""
        return max(
            one.out + one.part.room(one.font) for one in self.placed(font, two_lines=two_lines)
        )
