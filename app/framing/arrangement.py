"""Several windows in the mats of one piece: what was asked for, before anything is worked out.

Owns the types of windows and of how they stand to one another (G9, G20). As with a `Spec`, what they
ask for may be impossible; the checks say so.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from app.lengths import Length, Size

MOST_WINDOWS = 24
"""How many windows a piece may have, title slots not counted. Common practice: what a sheet holds."""


class Shape(StrEnum):
    """The outline of a window, drawn into its width and height (G20).

    OVAL: by its two axes, a circle where they are equal. ARCH: straight sides under half an oval as
    wide as the window.
    """

    RECTANGLE = "rectangle"
    OVAL = "oval"
    ARCH = "arch"


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """From the left and from the top edge, seen from the front."""

    x: Length
    y: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A title slot, centred under its window and cut through every layer as the window is.

    size: in the innermost mat. gap: from the window above it, between the holes in the top mat.
    """

    size: Size
    gap: Length


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """One window as asked for; exactly one of `artwork` and `window` gives its size.

    name: short, no two alike. artwork: the window follows from it by overlap or gap (G1, G2).
    window: the innermost window outright. floats, overlap, gap: None as the piece has them.
    rise: of an arch's round top in the innermost mat; None for a half circle, half the width.
    at: left-top corner of its window in the top mat, from that mat's left and top edges.
    """

    name: str
    artwork: Size | None = None
    window: Size | None = None
    floats: bool | None = None
    overlap: Length | None = None
    gap: Length | None = None
    shape: Shape = Shape.RECTANGLE
    rise: Length | None = None
    at: Point | None = None
    slot: Slot | None = None

    @property
    def slot_name(self) -> str:
        """What its title slot is called among the windows."""
        return f"{self.name} slot"


class Align(StrEnum):
    """Where the windows of one row meet: at their tops, their middles or their bottoms."""

    TOP = "top"
    CENTRE = "centre"
    BOTTOM = "bottom"


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """Windows in rows, from the top and from the left, in the order of the openings.

    rows: how many stand in each row. across, down: between neighbouring windows of the top mat in
    a row, and between rows; None where the gap follows from the package (G9).
    """

    rows: tuple[int, ...]
    align: Align = Align.CENTRE
    across: Length | None = None
    down: Length | None = None


def rows_of(count: int, columns: int) -> tuple[int, ...]:
    """Rows of so many columns that hold a count of windows, the last one what is left over."""
    whole, rest = divmod(count, columns)
    return (columns,) * whole + ((rest,) if rest else ())


def split_in_rows[T](windows: Sequence[T], rows: tuple[int, ...]) -> Iterator[Sequence[T]]:
    """Windows, or whatever stands for them, in rows of so many each."""
    first = 0
    for count in rows:
        yield windows[first : first + count]
        first += count


def window_letter(index: int) -> str:
    """Return the usual name of a window by its index: A, B, C, … and AA after Z."""
    before, last = divmod(index, 26)
    return (window_letter(before - 1) if before else "") + chr(ord("A") + last)
