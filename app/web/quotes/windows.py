"""The windows on the quote page: which rows of their fields are wanted, and what came out of blank ones."""

from collections.abc import Mapping
from dataclasses import dataclass

from app.framing import Dimensions, window_letter
from app.lengths import Length, show
from app.orders.quoting.form import PIECE
from app.orders.quoting.piece_typed import PieceTyped
from app.orders.quoting.windows import window_count
from app.web.kit.fields import FormView

TOGETHER = (
    "windows.count",
    "arrangement.placing",
    "arrangement.rows",
    "arrangement.align",
    "arrangement.across",
    "arrangement.down",
    "groove",
)
"""The fields of all windows together."""

PLACE = ("size", "x", "y")
"""What of a window stands before its other fields, which are folded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowRow:
    """One window. wanted: False where it is kept only for what was typed in it. own: whether its folded fields are used."""

    row: int
    name: str
    wanted: bool
    own: bool
    there: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowsView:
    """The rows of windows. unfolded: whether any of their fields is used."""

    each: tuple[WindowRow, ...]
    unfolded: bool


def windows_view(piece: FormView[PieceTyped], typed: Mapping[str, str]) -> WindowsView:
    """Return the rows that are asked for, and those in which something is typed."""
    rows = PIECE.rows["windows"]
    wanted = window_count(typed)
    typed_in = (
        row
        for row, paths in enumerate(rows, 1)
        if any(typed.get(each, "").strip() for each in paths)
    )
    shown = rows[: max(wanted, *typed_in, 0)]
    each = tuple(
        WindowRow(
            row=row,
            name=window_letter(row),
            wanted=row < wanted,
            own=piece.filled(*(path for path in paths if path.rpartition(".")[2] not in PLACE)),
            there=piece[paths[0]].there,
        )
        for row, paths in enumerate(shown)
    )
    used = piece.filled(*TOGETHER, *(path for paths in shown for path in paths))
    return WindowsView(each=each, unfolded=used)


def came_out(dimensions: Dimensions, typed: Mapping[str, str]) -> dict[str, str]:
    """Return what gaps, and places, that were left blank came to, at their fields."""
    unit = dimensions.spec.unit
    came: dict[str, Length | None] = {}
    if dimensions.gaps is not None:
        came = {
            "arrangement.across": dimensions.gaps.across,
            "arrangement.down": dimensions.gaps.down,
        }
    names = [opening.name for opening in dimensions.spec.openings]
    for window in dimensions.windows_of(1):
        if window.name in names:
            row = f"windows.{names.index(window.name)}"
            came |= {f"{row}.x": window.x, f"{row}.y": window.y}
    return {
        path: show(length, unit, mark=True)
        for path, length in came.items()
        if length is not None and not typed.get(path, "").strip()
    }
