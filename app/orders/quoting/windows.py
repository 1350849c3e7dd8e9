"""From what was typed about windows to openings and their arrangement (G9, G20).

A piece of which nothing of this was typed has no openings: then its one window is for the artwork.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from app.forms.reader import whole_number
from app.framing import (
    MOST_WINDOWS,
    Align,
    Arrangement,
    Opening,
    Point,
    Shape,
    Slot,
    Spec,
    rows_of,
    window_letter,
)
from app.framing.layout import lay_out
from app.lengths import ZERO, Length, Size
from app.orders.quoting.choices import Of, Placing, Shown
from app.orders.quoting.reader import PieceReader
from app.orders.quoting.window_fields import USUAL_GAP

type Place = tuple[Length | None, Length | None]
"""From the left and from the top edge; None where it was left blank."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedWindows:
    """The windows as a spec has them, in their rows. places: what was typed, where they are free."""

    openings: tuple[Opening, ...] = ()
    arrangement: Arrangement | None = None
    groove: Length | None = None
    places: tuple[Place, ...] = ()


def window_count(typed: Mapping[str, str]) -> int:
    """Tell how many windows are asked for; 1 where the count is blank or cannot be read."""
    text = typed.get("windows.count", "").strip()
    return int(text) if is_count(text, MOST_WINDOWS) else 1


def read_windows(
    read: PieceReader, artwork: Size, *, floats: bool, gaps_follow: bool
) -> AskedWindows:
    """Return the windows that were typed, every fault at its field.

    artwork: what windows without a size of their own are for. floats: whether the piece is shown
    floating. gaps_follow: whether gaps that were not typed fill the package between its borders.
    """
    count = read.at("windows.count")
    free = read.choice("arrangement.placing", Placing, Placing.ROWS) is Placing.FREE
    groove = _optional(read, "groove")
    openings = _openings(read, count, artwork, floats=floats)
    arrangement = _arrangement(read, count, gaps_follow=gaps_follow)
    plain = openings == (_plain(artwork),) and arrangement == _one_row(read)
    if plain and not free:
        return AskedWindows(groove=groove)
    return AskedWindows(
        openings=openings,
        arrangement=arrangement,
        groove=groove,
        places=tuple(_place(read, row) for row in range(count)) if free else (),
    )


def at_their_places(spec: Spec, places: tuple[Place, ...]) -> tuple[Opening, ...]:
    """Return the openings of a spec in rows, moved to where they were typed to be.

    What is blank of a place is as the rows have it. Empty where nothing was typed, and where there is no
    mat or the rows cannot be laid out, for which the spec has faults of its own.
    """
    layout = lay_out(spec)
    if layout is None or not layout.holes or all(place == (None, None) for place in places):
        return ()
    windows = [hole for hole in layout.holes if not hole.slot]
    return tuple(
        replace(opening, at=Point(x=hole.x if x is None else x, y=hole.y if y is None else y))
        for opening, hole, (x, y) in zip(spec.openings, windows, places, strict=True)
    )


def first_corner(openings: tuple[Opening, ...]) -> Point:
    """Return what of the left and of the top border windows in their places leave. At least one has one."""
    places = [opening.at for opening in openings if opening.at is not None]
    return Point(x=min(at.x for at in places), y=min(at.y for at in places))


def _plain(artwork: Size) -> Opening:
    """Return the window of a piece about whose window nothing was typed."""
    return Opening(name=window_letter(0), artwork=artwork)


def _one_row(read: PieceReader) -> Arrangement:
    return Arrangement(rows=(1,), align=read.choice("arrangement.align", Align, Align.CENTRE))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Choices:
    """What of a window may be left to window A; where it is blank there, the usual."""

    of: Of = Of.ARTWORK
    shown: Shown = Shown.PIECE
    shape: Shape = Shape.RECTANGLE
    rise: Length | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Like:
    """What a blank field of a window means."""

    size: Size
    choices: _Choices
    floats: bool


def _openings(read: PieceReader, count: int, artwork: Size, *, floats: bool) -> tuple[Opening, ...]:
    """Window A is for the artwork; what is blank of another one is as with A."""
    usual = _Like(size=artwork, choices=_Choices(), floats=floats)
    like_a = replace(usual, size=_size(read, 0, artwork), choices=_choices(read, 0, _Choices()))
    return tuple(_opening(read, row, like_a if row else usual) for row in range(count))


def _name(read: PieceReader, row: int) -> str:
    return read.text(f"windows.{row}.name") or window_letter(row)


def _size(read: PieceReader, row: int, usual: Size) -> Size:
    path = f"windows.{row}.size"
    if not read.given(path):
        return usual
    return read.said_size(path, f"size of window {_name(read, row)}") or usual


def _choices(read: PieceReader, row: int, usual: _Choices) -> _Choices:
    path = f"windows.{row}"
    shape = read.choice(f"{path}.shape", Shape, usual.shape)
    rise = _optional(read, f"{path}.rise")
    if rise is None and not read.given(f"{path}.shape"):
        rise = usual.rise
    return _Choices(
        of=read.choice(f"{path}.kind", Of, usual.of),
        shown=read.choice(f"{path}.shown", Shown, usual.shown),
        shape=shape,
        rise=rise if shape is Shape.ARCH else None,
    )


def _opening(read: PieceReader, row: int, like: _Like) -> Opening:
    path, name = f"windows.{row}", _name(read, row)
    size, choices = _size(read, row, like.size), _choices(read, row, like.choices)
    hole, shown = choices.of is Of.HOLE, choices.shown
    edge = _optional(read, f"{path}.edge")
    floating = like.floats if shown is Shown.PIECE else shown is Shown.FLOAT
    return Opening(
        name=name,
        artwork=None if hole else size,
        window=size if hole else None,
        floats=None if shown is Shown.PIECE else floating,
        overlap=None if floating else edge,
        gap=edge if floating else None,
        shape=choices.shape,
        rise=choices.rise,
        slot=_slot(read, path, name),
    )


def _place(read: PieceReader, row: int) -> Place:
    return _optional(read, f"windows.{row}.x"), _optional(read, f"windows.{row}.y")


def _optional(read: PieceReader, path: str) -> Length | None:
    return read.length(path, ZERO) if read.given(path) else None


def _slot(read: PieceReader, path: str, name: str) -> Slot | None:
    if not read.given(f"{path}.slot"):
        return None
    size = read.measured_size(f"{path}.slot", f"title slot under window {name}")
    gap = read.at(f"{path}.slot_gap")
    return Slot(size=size, gap=gap) if size else None


def _arrangement(read: PieceReader, count: int, *, gaps_follow: bool) -> Arrangement:
    rows = _rows(read, count)
    usual = None if gaps_follow else USUAL_GAP[read.unit]
    across = usual if max(rows) > 1 else None
    down = usual if len(rows) > 1 else None
    return Arrangement(
        rows=rows,
        align=read.choice("arrangement.align", Align, Align.CENTRE),
        across=_gap(read, "arrangement.across", across),
        down=_gap(read, "arrangement.down", down),
    )


def _gap(read: PieceReader, path: str, usual: Length | None) -> Length | None:
    typed = _optional(read, path)
    return usual if typed is None else typed


def _rows(read: PieceReader, count: int) -> tuple[int, ...]:
    """Return the rows: "4" is four in each, "3, 2" three above two; blank, all in one."""
    text = read.text("arrangement.rows")
    numbers = [part for part in re.split(r"[\s,;+/]+", text) if part]
    wrong = [part for part in numbers if not is_count(part, MOST_WINDOWS)]
    if wrong or (text and not numbers):
        read.faults.add(
            "arrangement.rows",
            f"The rows are “{text[:40]}”; type how many windows stand in each, as 4 or 3, 2, each "
            f"from 1 to {MOST_WINDOWS}.",
        )
        return (count,)
    if len(numbers) > 1:
        return tuple(int(number) for number in numbers)
    return rows_of(count, int(numbers[0])) if numbers else (count,)


def is_count(text: str, most: int) -> bool:
    """Tell whether a text is a whole number from 1 up to a most."""
    number = whole_number(text, digits=8)
    return number is not None and 1 <= number <= most
