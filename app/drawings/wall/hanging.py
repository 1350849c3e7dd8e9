"""Where pieces hang together on a wall: exact, before anything is drawn.

Rows are centred about one upright line, the middle of the group; gaps between neighbours in a row and between rows are
all the same. Lengths across are from that middle, to the left below zero; heights are above the floor.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import accumulate

from app.drawings.wall.things import THINGS, Thing
from app.errors import Invalid
from app.lengths import ZERO, Length, Size, Unit, inches, mm, say_on_rule

MOST_HUNG = 24
"""Pieces on one wall; more are too small to be looked at. Source: ours."""

USUAL_GAP = {Unit.MM: mm(50), Unit.IN: inches(2)}
"""Source: common practice, 50 to 80 mm, or 2 to 3 in."""

USUAL_MIDDLE = {Unit.MM: mm(1500), Unit.IN: inches(58)}
"""The middle of what hangs above the floor. Source: common practice, eye level: 1450 to 1550 mm, or 57 to 60 in."""

USUAL_ABOVE = {Unit.MM: mm(200), Unit.IN: inches(8)}
"""From a sofa or table up to what hangs above it. Source: common practice, 150 to 250 mm, or 6 to 10 in."""

FROM_CORNER = mm(100)
"""What is beside the pieces stands so far from the corner of a wall that is given. Source: ours."""

BESIDE = mm(350)
"""On a wall that is not given, the pieces keep so far from what stands beside them. Source: ours."""

ROW_FITS = mm(2600)
"""Where the wall is not given, a row that is longer is broken into two. Source: ours, a little more than a sofa."""

ROWS_FIT = mm(1700)
"""Where the wall is not given, rows are rather longer than all of them higher than this. Source: ours, what a room of 2500 leaves."""


class Alignment(StrEnum):
    """What stands on one level in a row."""

    CENTRES = "centres"
    TOPS = "tops"
    BOTTOMS = "bottoms"


@dataclass(frozen=True, slots=True, kw_only=True)
class ToHang:
    """How pieces are to hang. sizes: of each piece's outside, in their order, at least one.

    rows: how many hang in each row from the top, which together are all; empty for as few rows as fit. middle: of the
    whole group above the floor; above: from what stands beneath it up to the group; None for what is usual. wall: None for
    one that goes on.
    """

    sizes: tuple[Size, ...]
    unit: Unit
    gap: Length
    rows: tuple[int, ...] = ()
    alignment: Alignment = Alignment.CENTRES
    thing: Thing = Thing.NONE
    middle: Length | None = None
    above: Length | None = None
    wall: Size | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _OnWall:
    """What hangs on a wall, a piece or the group. foot: its lower edge above the floor."""

    size: Size
    foot: Length

    @property
    def top(self) -> Length:
        """Its upper edge above the floor."""
        return self.foot + self.size.height

    @property
    def middle(self) -> Length:
        """Its middle above the floor."""
        return self.foot + self.size.height / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class HungPlace(_OnWall):
    """Where one piece hangs. left: its left side from the middle of the group."""

    left: Length

    @property
    def right(self) -> Length:
        """Its right side from the middle of the group."""
        return self.left + self.size.width

    @property
    def across(self) -> Length:
        """Its own middle from the middle of the group."""
        return self.left + self.size.width / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging(_OnWall):
    """The group, and its pieces in their places, in the order in which they were given.

    thing_left: the left side of what stands at the wall, wall_left: that of a wall that is given, both from the middle of
    the group.
    """

    places: tuple[HungPlace, ...]
    rows: tuple[int, ...]
    thing: Thing
    thing_left: Length | None
    wall: Size | None
    wall_left: Length | None


def hang(wanted: ToHang) -> Hanging:
    """Return where each piece hangs, all of them on the wall.

    Raises: Invalid at "wall", "height", "above" or "rows" where that cannot be.
    """
    room = _room_across(wanted)
    rows = wanted.rows or _fewest_rows(wanted, room)
    if sum(rows) != len(wanted.sizes) or min(rows) < 1:
        raise Invalid.at("rows", f"The rows hold {sum(rows)} pieces; {len(wanted.sizes)} are hung.")
    grouped = tuple(_in_rows(wanted.sizes, rows))
    size = _around(grouped, wanted.gap)
    if wanted.wall is not None and room is not None:
        _check_across(wanted, room, size)
        _check_up(wanted, wanted.wall.height, size.height)
    foot = _foot(wanted, size.height)
    wall_left = None if room is None else -(room / 2)
    return Hanging(
        places=tuple(_places(grouped, wanted, foot + size.height)),
        rows=rows,
        size=size,
        foot=foot,
        thing=wanted.thing,
        thing_left=_thing_left(wanted, size.width, wall_left),
        wall=wanted.wall,
        wall_left=wall_left,
    )


def even_rows(count: int, rows: int) -> tuple[int, ...]:
    """Return how many hang in each of some rows, no two of which differ by more than one, the longer ones first."""
    each, more = divmod(count, rows)
    return tuple(each + (row < more) for row in range(rows))


def _in_rows(sizes: Sequence[Size], rows: Sequence[int]) -> Iterator[tuple[Size, ...]]:
    for end, count in zip(accumulate(rows), rows, strict=True):
        yield tuple(sizes[end - count : end])


def _around(rows: Sequence[Sequence[Size]], gap: Length) -> Size:
    """Return the size of what is around rows, with their gaps."""
    return Size(
        max(_length_of(row, gap) for row in rows),
        _sum(_height_of(row) for row in rows) + gap * (len(rows) - 1),
    )


def _length_of(row: Sequence[Size], gap: Length) -> Length:
    return _sum(size.width for size in row) + gap * (len(row) - 1)


def _height_of(row: Sequence[Size]) -> Length:
    return max(size.height for size in row)


def _sum(lengths: Iterator[Length]) -> Length:
    return sum(lengths, start=ZERO)


def _places(rows: Sequence[Sequence[Size]], wanted: ToHang, top: Length) -> Iterator[HungPlace]:
    """Yield each place, row by row from the top. top: of the group above the floor."""
    for row in rows:
        left, height = -(_length_of(row, wanted.gap) / 2), _height_of(row)
        for size in row:
            yield HungPlace(
                left=left,
                foot=top - height + _up(wanted.alignment, height - size.height),
                size=size,
            )
            left += size.width + wanted.gap
        top -= height + wanted.gap


def _up(alignment: Alignment, spare: Length) -> Length:
    """Return how far above the foot of its row a piece hangs. spare: how much higher the row is."""
    match alignment:
        case Alignment.TOPS:
            return spare
        case Alignment.BOTTOMS:
            return ZERO
        case Alignment.CENTRES:
            return spare / 2


def _beside(wanted: ToHang) -> Length:
    """Return what a thing beside the pieces takes off a wall that is given."""
    thing = THINGS.get(wanted.thing)
    return ZERO if thing is None or thing.beneath else thing.size.width + FROM_CORNER


def _room_across(wanted: ToHang) -> Length | None:
    """Return how wide the part of the wall is that the pieces have for themselves; None where no wall is given."""
    return None if wanted.wall is None else wanted.wall.width - _beside(wanted)


def _fewest_rows(wanted: ToHang, room: Length | None) -> tuple[int, ...]:
    """Return as few rows as fit beside each other, and where a room is not so high, rows that are longer; one below the other
    where a wall that is given has no room for two.
    """
    sizes, gap = wanted.sizes, wanted.gap
    ways = tuple(even_rows(len(sizes), rows) for rows in range(1, len(sizes) + 1))
    around = {rows: _around(tuple(_in_rows(sizes, rows)), gap) for rows in ways}
    fits = ROW_FITS if room is None else room
    fewest = next((rows for rows in ways if around[rows].width <= fits), ways[-1])
    if room is not None or around[fewest].height <= ROWS_FIT:
        return fewest
    return next((rows for rows in reversed(ways) if around[rows].height <= ROWS_FIT), ways[0])


def _check_across(wanted: ToHang, room: Length, size: Size) -> None:
    """Raises: Invalid where the group is wider than its part of the wall, or what stands beneath it than the wall."""
    unit, thing = wanted.unit, THINGS.get(wanted.thing)
    if size.width > room:
        beside = f" beside the {thing.called}" if thing and not thing.beneath else ""
        alone = max(each.width for each in wanted.sizes) > room
        ways = "a wider wall" if alone else "more rows, a smaller gap or a wider wall"
        raise Invalid.at(
            "wall",
            f"All of it is {say_on_rule(size.width, unit)} wide, the wall{beside} "
            f"{say_on_rule(max(room, ZERO), unit)}; take {ways}.",
        )
    if thing and thing.beneath and thing.size.width > room:
        raise Invalid.at(
            "wall",
            f"The {thing.called} is {say_on_rule(thing.size.width, unit)} wide, the wall "
            f"{say_on_rule(room, unit)}; take a wider wall or another thing.",
        )


def _check_up(wanted: ToHang, wall: Length, height: Length) -> None:
    """Raises: Invalid where the group, what stands at the wall, or both over each other are higher than the wall."""
    unit, thing = wanted.unit, THINGS.get(wanted.thing)
    if thing and thing.height > wall:
        raise Invalid.at(
            "wall",
            f"The {thing.called} is {say_on_rule(thing.height, unit)} high, the wall "
            f"{say_on_rule(wall, unit)}; take a higher wall or another thing.",
        )
    left = wall - _least_foot(wanted)
    if height > left:
        above = (
            f"and above the {thing.called} the wall has" if thing and thing.beneath else "the wall"
        )
        alone = max(each.height for each in wanted.sizes) > left
        ways = "a higher wall" if alone else "fewer rows, a smaller gap or a higher wall"
        raise Invalid.at(
            "wall",
            f"All of it is {say_on_rule(height, unit)} high, {above} {say_on_rule(left, unit)}; take {ways}.",
        )


def _least_foot(wanted: ToHang) -> Length:
    """Return the top of what stands beneath the pieces, or the floor."""
    thing = THINGS.get(wanted.thing)
    return thing.height if thing and thing.beneath else ZERO


def _foot(wanted: ToHang, height: Length) -> Length:
    """Return the lower edge of the group above the floor. Raises: Invalid where a typed height cannot be."""
    thing = THINGS.get(wanted.thing)
    least = _least_foot(wanted)
    most = None if wanted.wall is None else wanted.wall.height - height
    if wanted.middle is not None:
        if least and wanted.above is not None:
            raise Invalid.at(
                "above",
                "How far above the floor the middle is decides this already; leave one of the two blank.",
            )
        return _checked(wanted, wanted.middle - height / 2, height, (least, most))
    if least and wanted.above is not None:
        foot = least + wanted.above
        if most is not None and foot > most:
            raise Invalid.at(
                "above",
                f"So it would reach {say_on_rule(foot - most, wanted.unit)} above the wall; at most "
                f"{say_on_rule(most - least, wanted.unit)} above the {thing.called if thing else ''} is room for.",
            )
        return foot
    usual = least + USUAL_ABOVE[wanted.unit] if least else USUAL_MIDDLE[wanted.unit] - height / 2
    usual = max(usual, least)
    return usual if most is None else min(usual, most)


def _checked(
    wanted: ToHang, foot: Length, height: Length, between: tuple[Length, Length | None]
) -> Length:
    """Return a foot that was typed, by the middle. Raises: Invalid at "height" where it is not between the two."""
    least, most = between
    unit, thing = wanted.unit, THINGS.get(wanted.thing)
    if foot < least:
        where = (
            f"behind the {thing.called}, which is {say_on_rule(least, unit)} high"
            if thing and least
            else "below the floor"
        )
        raise Invalid.at(
            "height",
            f"So the lowest edge would be {say_on_rule(least - foot, unit)} {where}; the middle is at "
            f"{say_on_rule(least + height / 2, unit)} or more.",
        )
    if most is not None and foot > most:
        raise Invalid.at(
            "height",
            f"So it would reach {say_on_rule(foot - most, unit)} above the wall; the middle is at "
            f"{say_on_rule(most + height / 2, unit)} or less.",
        )
    return foot


def _thing_left(wanted: ToHang, width: Length, wall_left: Length | None) -> Length | None:
    """Return the left side of what stands at the wall: in the middle beneath, or to the right."""
    thing = THINGS.get(wanted.thing)
    if thing is None:
        return None
    if thing.beneath:
        return -(thing.size.width / 2)
    if wanted.wall is None or wall_left is None:
        return width / 2 + BESIDE
    return wall_left + wanted.wall.width - FROM_CORNER - thing.size.width
