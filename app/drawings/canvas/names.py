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
    named = [place for place in places if place.name]
    size = next((s * font for s in _SIZES if all(_fits(p, s * font) for p in named)), None)
    if size is None:
        return
    for place in named:
        yield from _written(place, size, font * _UNDER)


def _fits(place: Inside, size: float) -> bool:
    room = place.box.width - size * 0.4
    return width_of(place.name, size) <= room and place.box.height >= size * 1.3


def _written(place: Inside, size: float, small: float) -> Iterator[Markup]:
    x, y = place.box.centre
    both = size + small * 1.35
    fits = (
        place.under
        and width_of(place.under, small) <= place.box.width - small * 0.6
        and both <= place.box.height - small * 0.6
    )
    top = y - both / 2 if fits else y - size / 2
    yield lettering(place.name, (x, top + size * 0.86), size, fill=INK, class_="ink")
    if fits:
        at = (x, top + size + small * 1.1)
        yield lettering(place.under, at, small, fill=INK, class_="ink")
