"""A test cut from its form: the mat that is cut, and what was measured on it.

The four borders asked for are equal, so that the board may lie as it will: edges are named as it
lies, back up, and no name has to be exchanged.
"""

from collections.abc import Mapping

from app.bench import Cutter, MatToCut, Measured, NamedWindow
from app.errors import Fault, Invalid
from app.forms.reader import Reader, length_text, size_text
from app.framing import Edges
from app.lengths import ZERO, Example, Examples, Length, Size, Unit, inches, mm
from app.money import Currency

SIDES = ("left", "top", "right", "bottom")

_BOARD = {Unit.MM: Size(mm(240), mm(200)), Unit.IN: Size(inches(10), inches(8))}
_BORDER = {Unit.MM: mm(50), Unit.IN: inches(2)}
_BOARD_THICKNESS = {Unit.MM: mm("1.4"), Unit.IN: inches("1/16")}
"""A piece of waste that most shops have; all of it our own choice, boards from common practice."""

EXAMPLES: Examples = {
    "board": Example.of(_BOARD.__getitem__),
    "border": Example.of(_BORDER.__getitem__),
    "thickness": Example.of(_BOARD_THICKNESS.__getitem__),
    **{f"borders.{side}": Example.of(_BORDER.__getitem__) for side in SIDES},
    "window.width": Example(mm(140), inches(6)),
    "window.height": Example(mm(100), inches(4)),
    **{
        f"{end}.{side}": Example(mm("0.5"), inches("1/64"))
        for end in ("past_start", "past_end")
        for side in SIDES
    },
}
"""What such a mat comes to, and how far a cut may run past its corner."""


def proposed(cutter: Cutter) -> dict[str, str]:
    """The fields of a test mat that this cutter can cut."""
    unit = cutter.unit
    border = min(_BORDER[unit], cutter.on_scale(cutter.guide_reach / 2))
    return {
        "board": size_text(_BOARD[unit], unit),
        "border": length_text(border, unit),
        "thickness": length_text(min(_BOARD_THICKNESS[unit], cutter.deepest_board), unit),
    }


def read_test_mat(typed: Mapping[str, str], cutter: Cutter, currency: Currency) -> MatToCut:
    """The mat that is cut, with one window; a bare number is in the unit of the scale.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = Reader(proposed(cutter) | _filled(typed), cutter.unit, currency, EXAMPLES)
    board = read.size("board", _BOARD[cutter.unit])
    border = read.length("border", zero_ok=False)
    thickness = read.length("thickness", zero_ok=False)
    _check_border(read, cutter, board, border)
    read.faults.finish()
    window = NamedWindow(
        name="window",
        x=border,
        y=border,
        width=board.width - border * 2,
        height=board.height - border * 2,
    )
    return MatToCut(
        piece="",
        layer=1,
        blank=board,
        reference=board,
        windows=(window,),
        thickness=thickness,
        run=thickness,  # a bevel of 45° (G8)
    )


def _filled(typed: Mapping[str, str]) -> dict[str, str]:
    return {path: text for path, text in typed.items() if text.strip()}


def _check_border(read: Reader, cutter: Cutter, board: Size, border: Length) -> None:
    if not read.faults and border * 2 >= min(board.width, board.height):
        read.faults.add(
            "border",
            f"Borders of {cutter.say(border)} leave no window in a board of "
            f"{cutter.say(board.width)} by {cutter.say(board.height)}; take less than half of its "
            "shorter side.",
        )


def read_measured(typed: Mapping[str, str], cutter: Cutter, currency: Currency) -> Measured:
    """What was measured; a blank corner is a clean one. Raises: Invalid at the form's fields."""
    read = Reader(typed, cutter.unit, currency, EXAMPLES)
    borders = {side: _needed(read, f"borders.{side}") for side in SIDES}
    width, height = (_needed(read, f"window.{side}") for side in ("width", "height"))
    start = {side: read.signed(f"past_start.{side}") for side in SIDES}
    end = {side: read.signed(f"past_end.{side}") for side in SIDES}
    read.faults.finish()
    return Measured(
        borders=Edges(**borders),
        window=Size(width, height),
        past_start=Edges(**start),
        past_end=Edges(**end),
    )


def _needed(read: Reader, path: str) -> Length:
    if not read.given(path):
        read.faults.add(path, "Type what was measured.", "empty")
        return ZERO
    return read.length(path)


_OF_CUTTER = {"guide_correction", "start_offset", "end_offset"}


def at_the_page(invalid: Invalid) -> tuple[Fault, ...]:
    """Faults of a correction; what a corrected cutter cannot be has no field on this page."""
    return tuple(
        Fault(path="" if fault.path in _OF_CUTTER else fault.path, message=fault.message)
        for fault in invalid.faults
    )
