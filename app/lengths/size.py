"""Width and height together."""

from dataclasses import dataclass
from fractions import Fraction

from app.lengths.length import Length


@dataclass(frozen=True, slots=True)
class Size:
    """A width and a height, in that order, as seen from the front.

    Either may be zero or negative while a spec is being worked out; whether that is a fault is for
    the rule that meets it.
    """

    width: Length
    height: Length

    def turned(self) -> "Size":
        """Return the same size turned by 90 degrees."""
        return Size(self.height, self.width)

    @property
    def area_m2(self) -> Fraction:
        """The area in square metres, exact."""
        width, height = self.width.mm, self.height.mm
        return Fraction(
            width.numerator * height.numerator,
            width.denominator * height.denominator * 1_000_000,
        )

    @property
    def united(self) -> Length:
        """The width and the height together, by which size bands are priced. Source: P1."""
        return self.width + self.height
