"""What is written into each window: its name, and under it a size where there is room."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from app.drawings.canvas.boxes import Box
from app.drawings.canvas.canvas import INK, lettering
from app.drawings.canvas.lettering import width_of
from app.drawings.canvas.svg import Markup

_SIZES = (1.3, 1.1, 0.95, 0.82)
"""Letter heights of a name, the largest that fits; of figures under it 0.85."""

_UNDER = 0.85


@dataclass(frozen=True, slots=True)
class Inside:
    """A window with what is written into it; under: "" where nothing is."""

    box: Box
    name: str
    under: str = ""


def written_inside(places: Sequence[Inside], font: float) -> Iterator[Markup]:
    """Yield the names, all in one size: the largest that fits in every window, or none where none does.

    What stands under a name is left out of a window that has no room for both.
    """
    for one in _in_one_size(places, font):
        yield from one.drawn()


def rooms_of(places: Sequence[Inside], font: float) -> tuple[Box, ...]:
    """Return the room that what is written into each window takes; nothing where no name fits."""
    return tuple(one.room for one in _in_one_size(places, font))


def _in_one_size(places: Sequence[Inside], font: float) -> Iterator["_Written"]:
    named = [place for place in places if place.name]
    size = next((s * font for s in _SIZES if all(_fits(p, s * font) for p in named)), None)
    if size is not None:
        yield from (_Written(place, size, font * _UNDER) for place in named)


def _fits(place: Inside, size: float) -> bool:
    room = place.box.width - size * 0.4
    return width_of(place.name, size) <= room and place.box.height >= size * 1.3


@dataclass(frozen=True, slots=True)
class _Written:
    """A name in its window, with what stands under it where there is room. size, small: of their letters."""

    place: Inside
    size: float
    small: float

    @property
    def under(self) -> str:
        """What stands under the name."""
        place, small = self.place, self.small
        fits = (
            width_of(place.under, small) <= place.box.width - small * 0.6
            and self.size + small * 1.35 <= place.box.height - small * 0.6
        )
        return place.under if fits else ""

    @property
    def room(self) -> Box:
        """The box about its words."""
        (x, y), under = self.place.box.centre, self.under
        wide = max(width_of(self.place.name, self.size), width_of(under, self.small))
        high = self.size + (self.small * 1.35 if under else 0.0)
        return Box(x - wide / 2, y - high / 2, wide, high)

    def drawn(self) -> Iterator[Markup]:
        """Yield the name, and what stands under it."""
        x, top, size = self.place.box.centre[0], self.room.y, self.size
        yield lettering(self.place.name, (x, top + size * 0.86), size, fill=INK, class_="ink")
        if self.under:
            at = (x, top + size + self.small * 1.1)
            yield lettering(self.under, at, self.small, fill=INK, class_="ink")
