"""Pictures in a row on a wall of paper."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.documents.kit.pictures import FrontPicture

_LEAST_SHARE = 0.45
"""A small piece beside large ones is drawn at least at this share of what its place allows. Source: ours."""


_PICTURED = 0.88
"""Of the height of a wall, what a picture takes at most. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """A picture on its wall, in mm. down: from the top of the wall."""

    wide: float
    high: float
    down: float


def hung(shown: Sequence[FrontPicture], wide: float, high: float) -> tuple[Hung, ...]:
    """Return pictures in a row, to one scale as far as that leaves each large enough.

    wide: of the place of each, high: of the wall, in mm.
    """
    margin = max(3.0, high * (1 - _PICTURED) / 2)
    own = [min((wide - 4) / at.wide, (high - 2 * margin) / at.high) for at in shown]
    scales = [max(min(own), each * _LEAST_SHARE) for each in own]
    return tuple(
        Hung(
            wide=round(at.wide * scale, 1),
            high=round(at.high * scale, 1),
            down=round((high - at.high * scale) / 2, 1),
        )
        for at, scale in zip(shown, scales, strict=True)
    )


_AROUND = 5.0
"""Above and below the pictures of a field that is no higher than they need, mm. Source: ours."""


def field_of(rows: Sequence[Sequence[FrontPicture]], wide: float, most: float) -> float:
    """Return how high a wall needs to be so that the pictures of each row are as large as its width lets them be, mm.

    wide: of the wall; most: how high it may be.
    """
    needed = max(each.high for row in rows if row for each in hung(row, wide / len(row), most))
    return round(min(most, max(needed + 2 * _AROUND, needed / _PICTURED)), 1)
