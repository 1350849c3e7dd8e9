"""Pictures in a row on a wall of paper."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

from app.documents.kit.pictures import FrontPicture

_LEAST_SHARE = 0.45
"""A small piece beside large ones is drawn at least at this share of what its place allows. Source: ours."""


_PICTURED = 0.88
"""Of the height of a wall, what a picture takes at most. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """A picture on its wall, in mm. down: from the top of the wall. place: how much of the wall's width it has to itself."""

    wide: float
    high: float
    down: float
    place: float


_LESS_THAN_ITS_SHARE = 0.02


def a_little_less(share: float) -> float:
    """Return how wide one of several that stand beside each other is, whole tenths of a mm: a little less than its share, as
    what takes the whole width to the last fraction of a pixel is set beneath the others.
    """
    return int((share - _LESS_THAN_ITS_SHARE) * 10) / 10


def hung(shown: Sequence[FrontPicture], wide: float, high: float) -> tuple[Hung, ...]:
    """Return pictures in a row, to one scale as far as that leaves each large enough.

    wide: of the place of each, high: of the wall, in mm.
    """
    own = _alone(shown, wide, high)
    scales = [max(min(own), each * _LEAST_SHARE) for each in own]
    return tuple(
        Hung(
            wide=round(at.wide * scale, 1),
            high=round(at.high * scale, 1),
            down=round((high - at.high * scale) / 2, 1),
            place=a_little_less(wide),
        )
        for at, scale in zip(shown, scales, strict=True)
    )


def hung_in_rows(
    rows: Sequence[Sequence[FrontPicture]], wide: float, high: float
) -> tuple[tuple[Hung, ...], ...]:
    """Return pictures of several rows, all to one scale as far as that leaves each large enough. wide, high: as of `hung`."""
    together = [each for row in rows for each in row]
    places = iter(hung(together, wide, high))
    return tuple(tuple(islice(places, len(row))) for row in rows)


_AROUND = 5.0
"""Above and below the pictures of a field that is no higher than they need, mm. Source: ours."""


def field_of(rows: Sequence[Sequence[FrontPicture]], wide: float, most: float) -> float:
    """Return how high a wall needs to be so that the pictures of each row are as large as their width lets them be, mm.

    wide: of the place of each; most: how high it may be.
    """
    needed = max(each.high for row in hung_in_rows(rows, wide, most) for each in row)
    return round(min(most, max(needed + 2 * _AROUND, needed / _PICTURED)), 1)


def _alone(shown: Sequence[FrontPicture], wide: float, high: float) -> list[float]:
    """Return the scale to which each would be drawn alone in its place."""
    margin = max(3.0, high * (1 - _PICTURED) / 2)
    return [min((wide - 4) / at.wide, (high - 2 * margin) / at.high) for at in shown]


_GAP = 7.0
"""The least between pictures of a row, and half of that at its ends, mm. Source: ours."""


def scale_of_row(shown: Sequence[FrontPicture], wide: float, high: float) -> float:
    """Return the largest scale to which all hang side by side on a wall so wide and high, mm."""
    margin = max(3.0, high * (1 - _PICTURED) / 2)
    across = (wide - _GAP * len(shown)) / sum(at.wide for at in shown)
    return min(across, *((high - 2 * margin) / at.high for at in shown))


def row_of(
    shown: Sequence[FrontPicture], wide: float, high: float, scale: float
) -> tuple[Hung, ...]:
    """Return pictures side by side with equal gaps; a small one is drawn larger than to scale, so that it is seen.

    wide, high: of the wall, mm.
    """
    least = [each * _LEAST_SHARE for each in _alone(shown, wide / len(shown), high)]
    scales = [max(scale, each) for each in least]
    taken = sum(at.wide * its for at, its in zip(shown, scales, strict=True))
    room = wide - _GAP * len(shown)
    if taken > room:
        scales = [its * room / taken for its in scales]
        taken = room
    gap = (wide - taken) / len(shown)
    return tuple(
        Hung(
            wide=round(at.wide * its, 1),
            high=round(at.high * its, 1),
            down=round((high - at.high * its) / 2, 1),
            place=a_little_less(at.wide * its + gap),
        )
        for at, its in zip(shown, scales, strict=True)
    )


def band_of(shown: Sequence[FrontPicture], scale: float, high: float) -> float:
    """Return how high the wall of a row is at most, mm: the tallest picture with some air, no empty wall above it."""
    tallest = max(at.high for at in shown) * scale
    return min(high, tallest + 2 * max(7.0, tallest * 0.14))
