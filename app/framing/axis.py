"""Windows side by side in one direction: gap, borders and what they add up to (G4 to G6, G9).

Owns the one sum behind width and height: border + windows and gaps + border = package, solved for
what was not given. It may come out negative; `checks` says what that means.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from app.lengths import ZERO, Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Windows in one line: how many, and what they measure together without gaps."""

    count: int
    total: Length

    def long(self, gap: Length) -> Length:
        """From the first window's near edge to the last one's far edge."""
        return self.total + gap * (self.count - 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What the lines lie in. whole: the package, None where it follows.

    before, after: the borders, or where they are open only what the second has more (weighting).
    open_borders: the package and not the borders was given.
    """

    whole: Length | None
    before: Length
    after: Length
    open_borders: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """The solved direction. start: the first border; field: from the first window to the last.

    gap: between neighbours, None where no line has two windows. solved: the gap was not given.
    windows: what the windows of the tightest line measure without gaps.
    """

    whole: Length
    start: Length
    field: Length
    gap: Length | None
    solved: bool
    windows: Length

    @property
    def end(self) -> Length:
        """The last border."""
        return self.whole - self.start - self.field


def solve(lines: Iterable[Line], gap: Length | None, room: Room) -> Axis:
    """Gap and borders of a direction.

    A gap that was not given fills the package: between its borders where those are given (G9),
    else it is as large as the borders themselves. The tightest line sets it for all; the others
    are centred. Whatever a package has over or short after that is shared by both borders (G5).
    """
    lines = tuple(lines)
    several = tuple(line for line in lines if line.count > 1)
    solved = gap is None and bool(several)
    if gap is None:
        gap = _equal_gap(several, room)
    field = max(line.long(gap) for line in lines)
    whole = room.before + field + room.after if room.whole is None else room.whole
    return Axis(
        whole=whole,
        start=room.before + (whole - room.before - room.after - field) / 2,
        field=field,
        gap=gap if several else None,
        solved=solved,
        windows=max(line.total for line in lines),
    )


def _equal_gap(lines: tuple[Line, ...], room: Room) -> Length:
    if room.whole is None or not lines:
        return ZERO
    left = room.whole - room.before - room.after
    beside = 1 if room.open_borders else -1
    return min((left - line.total) / (line.count + beside) for line in lines)
