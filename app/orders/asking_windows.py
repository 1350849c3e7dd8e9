"""From what was typed about windows to openings and their arrangement (G9, G20).

A piece of which nothing of this was typed has no openings: then its one window is for the artwork.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from app.framing import (
    DEFAULTS,
    MOST_WINDOWS,
    Align,
    Arrangement,
    Opening,
    Point,
    Shape,
    Slot,
    rows_of,
    window_letter,
)
from app.lengths import ZERO, Length, Size, Unit, inches, mm
from app.orders.typed import Typed, is_count

USUAL_GAP: dict[Unit, Length] = {Unit.MM: mm(40), Unit.IN: inches("3/2")}
"""Between neighbouring windows where nothing else is typed. Common practice, no source."""

USUAL_SLOT_GAP: dict[Unit, Length] = {unit: usual.least_bridge for unit, usual in DEFAULTS.items()}
"""Between a window and the title slot under it: the least board that is usual between windows."""


class Of(StrEnum):
    """What a typed size is the size of: what lies behind the window, or the hole itself."""

    ARTWORK = "artwork"
    HOLE = "hole"


class Shown(StrEnum):
    """How a window shows its artwork; blank, as the piece does."""

    AS_THE_PIECE = ""
    WINDOW = "window"
    FLOAT = "float"


class Placing(StrEnum):
    """Whether rows place the windows or each one says where it is."""

    ROWS = "rows"
    FREE = "free"


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedWindows:
    """The windows as a spec has them.

    first: the window that is nearest to the left and to the top edge, where places are free; it
    stands for borders that were not typed.
    """

    openings: tuple[Opening, ...] = ()
    arrangement: Arrangement | None = None
    groove: Length | None = None
    first: Point | None = None


def window_count(typed: Mapping[str, str]) -> int:
    """How many windows are asked for; 1 where the count is blank or cannot be read."""
    text = typed.get("windows.count", "").strip()
    return int(text) if is_count(text, MOST_WINDOWS) else 1


def read_windows(read: Typed, artwork: Size, *, floats: bool, gaps_follow: bool) -> AskedWindows:
    """The windows that were typed, every fault at its field.

    artwork: what windows without a size of their own are for. floats: whether the piece is shown
    floating. gaps_follow: whether gaps that were not typed fill the package between its borders.
    """
    count = read.count("windows.count", MOST_WINDOWS)
    free = read.choice("layout.placing", Placing, Placing.ROWS) is Placing.FREE
    openings = _openings(read, count, artwork, floats=floats, free=free)
    groove = read.length("groove", ZERO) if read.given("groove") else None
    places = [opening.at for opening in openings if opening.at is not None]
    if free and places:
        first = Point(x=min(at.x for at in places), y=min(at.y for at in places))
        return AskedWindows(openings=openings, groove=groove, first=first)
    arrangement = _arrangement(read, count, gaps_follow=gaps_follow)
    if count == 1 and openings[0] == _plain(artwork) and arrangement == _one_row(read):
        return AskedWindows(groove=groove)
    return AskedWindows(openings=openings, arrangement=arrangement, groove=groove)


def _plain(artwork: Size) -> Opening:
    """The window of a piece about whose window nothing was typed."""
    return Opening(name=window_letter(0), artwork=artwork)


def _one_row(read: Typed) -> Arrangement:
    return Arrangement(rows=(1,), align=read.choice("layout.align", Align, Align.CENTRE))


def _openings(
    read: Typed, count: int, artwork: Size, *, floats: bool, free: bool
) -> tuple[Opening, ...]:
    """Window A is for the artwork; one without a size is as large as A."""
    openings: list[Opening] = []
    for row in range(count):
        openings.append(_opening(read, row, artwork, floats=floats, free=free))
        if row == 0:
            artwork = openings[0].artwork or openings[0].window or artwork
    return tuple(openings)


def _opening(read: Typed, row: int, usual: Size, *, floats: bool, free: bool) -> Opening:
    path = f"windows.{row}"
    name = read.text(f"{path}.name") or window_letter(row)
    size = usual
    if read.given(f"{path}.size"):
        size = read.size(f"{path}.size", f"size of window {name}") or usual
    hole = read.choice(f"{path}.kind", Of, Of.ARTWORK) is Of.HOLE
    shown = read.choice(f"{path}.shown", Shown, Shown.AS_THE_PIECE)
    edge = read.length(f"{path}.edge", ZERO) if read.given(f"{path}.edge") else None
    here = shown is Shown.FLOAT or (floats and shown is Shown.AS_THE_PIECE)
    shape = read.choice(f"{path}.shape", Shape, Shape.RECTANGLE)
    arched = shape is Shape.ARCH and read.given(f"{path}.rise")
    return Opening(
        name=name,
        artwork=None if hole else size,
        window=size if hole else None,
        floats=None if shown is Shown.AS_THE_PIECE else shown is Shown.FLOAT,
        overlap=None if here else edge,
        gap=edge if here else None,
        shape=shape,
        rise=read.length(f"{path}.rise", ZERO) if arched else None,
        at=_place(read, path, name) if free else None,
        slot=_slot(read, path, name),
    )


def _place(read: Typed, path: str, name: str) -> Point:
    for field, edge in (("x", "left"), ("y", "top")):
        if not read.given(f"{path}.{field}"):
            read.faults.add(
                f"{path}.{field}",
                f"Window {name} has no place; type how far it is from the {edge} edge of the mat.",
            )
    return Point(x=read.length(f"{path}.x", ZERO), y=read.length(f"{path}.y", ZERO))


def _slot(read: Typed, path: str, name: str) -> Slot | None:
    if not read.given(f"{path}.slot"):
        return None
    size = read.size(f"{path}.slot", f"title slot under window {name}")
    gap = read.length(f"{path}.slot_gap", USUAL_SLOT_GAP[read.unit])
    return Slot(size=size, gap=gap) if size else None


def _arrangement(read: Typed, count: int, *, gaps_follow: bool) -> Arrangement:
    rows = _rows(read, count)
    usual = None if gaps_follow else USUAL_GAP[read.unit]
    across = usual if max(rows) > 1 else None
    down = usual if len(rows) > 1 else None
    return Arrangement(
        rows=rows,
        align=read.choice("layout.align", Align, Align.CENTRE),
        across=_gap(read, "layout.across", across),
        down=_gap(read, "layout.down", down),
    )


def _gap(read: Typed, path: str, usual: Length | None) -> Length | None:
    return read.length(path, usual or ZERO) if read.given(path) else usual


def _rows(read: Typed, count: int) -> tuple[int, ...]:
    """The rows: "4" is four in each, "3, 2" three above two; blank, all in one."""
    text = read.text("layout.rows")
    numbers = [part for part in re.split(r"[\s,;+/]+", text) if part]
    wrong = [part for part in numbers if not is_count(part, MOST_WINDOWS)]
    if wrong or (text and not numbers):
        read.faults.add(
            "layout.rows",
            f"The rows are “{text[:40]}”; type how many windows stand in each, as 4 or 3, 2, each "
            f"from 1 to {MOST_WINDOWS}.",
        )
        return (count,)
    if len(numbers) > 1:
        return tuple(int(number) for number in numbers)
    return rows_of(count, int(numbers[0])) if numbers else (count,)
