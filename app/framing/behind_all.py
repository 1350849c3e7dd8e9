"""One artwork behind several windows that are all of a given size: whether there is one, and what windows ask of it (G9).

A piece whose windows have artworks of their own has none. Owns its place on the mat; that on the board is for `placing` (G25).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from app.framing.openings import floats
from app.framing.spec import Spec
from app.framing.windows import Window
from app.lengths import ZERO, Length, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """The rectangle about several windows; x, y as a window's."""

    x: Length
    y: Length
    size: Size


def reach_of(windows: Iterable[Window]) -> Reach:
    """Return the rectangle about some windows, at least one."""
    each = tuple(windows)
    x, y = min(one.x for one in each), min(one.y for one in each)
    return Reach(
        x=x,
        y=y,
        size=Size(
            width=max(one.x + one.size.width for one in each) - x,
            height=max(one.y + one.size.height for one in each) - y,
        ),
    )


def all_given(spec: Spec) -> bool:
    """Tell whether there are several windows and each was given outright, with no artwork of its own and none that floats."""
    return len(spec.openings) > 1 and all(
        each.window is not None and each.artwork is None and not floats(spec, each)
        for each in spec.openings
    )


def before_artworks(spec: Spec, windows: Iterable[Window]) -> tuple[Window, ...]:
    """Return those of some windows that artworks show in: without title slots."""
    names = {each.name for each in spec.openings}
    return tuple(each for each in windows if each.name in names)


def reaches_behind_all(spec: Spec, windows: Sequence[Window], package: Size) -> bool:
    """Tell whether the piece's artwork reaches behind all windows of the last mat and goes into the package.

    windows: of all mats.
    """
    last = [each for each in windows if each.layer == len(spec.mats)]
    if not last or not all_given(spec):
        return False
    artwork, reach = spec.artwork, reach_of(before_artworks(spec, last)).size
    reaches = artwork.width >= reach.width and artwork.height >= reach.height
    return reaches and artwork.width <= package.width and artwork.height <= package.height


@dataclass(frozen=True, slots=True, kw_only=True)
class BehindAll:
    """The one artwork behind all windows. x, y: its left-top corner from the left and the top edge of the top mat, which are
    those of the package; back_x: the same from the left edge as seen from the back.
    """

    size: Size
    x: Length
    y: Length
    back_x: Length


def placed_behind_all(spec: Spec, windows: Sequence[Window], package: Size) -> BehindAll:
    """Return it with its middle behind that of all windows together, or as near to that as it stays within the package.

    windows: of the top mat; those of under mats have the same middle (G3).
    """
    size, reach = spec.artwork, reach_of(before_artworks(spec, windows))
    x = _within(reach.x + (reach.size.width - size.width) / 2, package.width - size.width)
    y = _within(reach.y + (reach.size.height - size.height) / 2, package.height - size.height)
    return BehindAll(size=size, x=x, y=y, back_x=package.width - x - size.width)


def _within(place: Length, room: Length) -> Length:
    return max(min(place, room), ZERO)
