"""A window of the top mat together with its title slot, as it is moved about to find its place.

Owns the hole and the block; where blocks go is for `layout`. Source: G3, G9, G20.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from app.framing.arrangement import Align, Opening, Point, Shape
from app.framing.openings import grown, innermost_window, revealed
from app.framing.spec import Spec
from app.lengths import ZERO, Length, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A window of the top mat at the back of the board; x, y: its left-top corner.

    opening: index of the opening it belongs to. rise: of an arch's top, None for other shapes.
    """

    opening: int
    slot: bool
    name: str
    shape: Shape
    x: Length
    y: Length
    size: Size
    rise: Length | None = None

    @property
    def right(self) -> Length:
        """Its right edge."""
        return self.x + self.size.width

    @property
    def bottom(self) -> Length:
        """Its bottom edge."""
        return self.y + self.size.height

    def grown(self, by: Length) -> "Hole":
        """Return the hole with every edge moved outwards, its round top with it."""
        return replace(
            self,
            x=self.x - by,
            y=self.y - by,
            size=grown(self.size, by * 2),
            rise=None if self.rise is None else self.rise + by,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A window of the top mat with its title slot, not yet in place."""

    index: int
    opening: Opening
    window: Size
    rise: Length | None
    slot: Size | None

    @property
    def width(self) -> Length:
        """What the wider of window and slot takes in a row."""
        return max(self.window.width, self.slot.width) if self.slot else self.window.width

    @property
    def tail(self) -> Length:
        """What stands under the window: the slot and its gap."""
        if self.slot is None or self.opening.slot is None:
            return ZERO
        return self.opening.slot.gap + self.slot.height

    def above(self, align: Align) -> Length:
        """From the window's top to the line at which the windows of a row meet."""
        return {
            Align.TOP: ZERO,
            Align.CENTRE: self.window.height / 2,
            Align.BOTTOM: self.window.height,
        }[align]

    def below(self, align: Align) -> Length:
        """From that line to the end of window and slot."""
        return self.window.height - self.above(align) + self.tail

    def placed(self, at: Point) -> Iterator[Hole]:
        """Yield the window with its left-top corner there, then the slot centred under it."""
        name = self.opening.name
        window = Hole(
            opening=self.index,
            slot=False,
            name=name,
            shape=self.opening.shape,
            x=at.x,
            y=at.y,
            size=self.window,
            rise=self.rise,
        )
        yield window
        if self.slot is not None and self.opening.slot is not None:
            yield Hole(
                opening=self.index,
                slot=True,
                name=self.opening.slot_name,
                shape=Shape.RECTANGLE,
                x=at.x + (self.window.width - self.slot.width) / 2,
                y=window.bottom + self.opening.slot.gap,
                size=self.slot,
            )


def block_of(spec: Spec, index: int, opening: Opening) -> Block:
    """Return the window and the slot of an opening as they are in the top mat (G3)."""
    shown = revealed(spec)
    window = grown(innermost_window(spec, opening), shown * 2)
    rise = None
    if opening.shape is Shape.ARCH:
        rise = window.width / 2 if opening.rise is None else opening.rise + shown
    return Block(
        index=index,
        opening=opening,
        window=window,
        rise=rise,
        slot=None if opening.slot is None else grown(opening.slot.size, shown * 2),
    )
