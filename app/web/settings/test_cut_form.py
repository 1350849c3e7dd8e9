"""Reads a test cut from its form: the mat that is cut, and what was measured on it.

The four borders are equal, so that the board may lie any way round: edges are named as it lies, back
up, and no name has to be exchanged.
"""

from collections.abc import Iterator
from dataclasses import replace

from app.bench import Cutter, MatToCut, Measured, NamedWindow
from app.errors import Fault, Invalid
from app.forms.kinds import ABOVE_ZERO, LENGTH, SIGNED, SIZE, In
from app.forms.reader import Reader
from app.forms.table import Field, Form, Typed
from app.framing import Edges
from app.lengths import ZERO, Example, Length, Size, Unit, inches, mm
from app.money import Currency

SIDES = ("left", "top", "right", "bottom")

_BOARD = {Unit.MM: Size(mm(240), mm(200)), Unit.IN: Size(inches(10), inches(8))}
_BORDER = {Unit.MM: mm(50), Unit.IN: inches(2)}
_BOARD_THICKNESS = {Unit.MM: mm("1.4"), Unit.IN: inches("1/16")}
"""A piece of waste that most shops have; all of it our own choice, boards from common practice."""


TEST_MAT = Form[In](
    Field(
        "board",
        "Board",
        replace(SIZE, control="size"),
        "A square-cut piece of waste.",
        like=Example.of(_BOARD.__getitem__),
    ),
    Field(
        "border",
        "All four borders",
        ABOVE_ZERO,
        "To the line at the back.",
        like=Example.of(_BORDER.__getitem__),
        beside=True,
    ),
    Field(
        "thickness",
        "Thickness of the board",
        ABOVE_ZERO,
        like=Example.of(_BOARD_THICKNESS.__getitem__),
        beside=True,
    ),
)


def _measured(path: str, label: str, like: Example, part: str = "") -> Field[In]:
    """Return the field of a length that must be measured."""
    return Field(
        path,
        label,
        LENGTH,
        within=f"{part.capitalize()} edge" if part else "",
        usual=ZERO,
        like=like,
        needed=True,
        wish="Type what was measured.",
        part=part,
    )


def _edges() -> Iterator[Field[In]]:
    for side in SIDES:
        yield _measured(f"borders.{side}", "Border", Example.of(_BORDER.__getitem__), side)
        for end in ("start", "end"):
            yield Field(
                f"past_{end}.{side}",
                f"Overcut at {end}",
                SIGNED,
                within=f"{side.capitalize()} edge",
                like=Example(mm("0.5"), inches("1/64")),
                part=side,
            )


MEASURED = Form[In](
    *_edges(),
    _measured("window.width", "Window, width", Example(mm(140), inches(6))),
    replace(_measured("window.height", "Window, height", Example(mm(100), inches(4))), beside=True),
)
"""What such a mat comes to, and how far a cut may run past its corner."""


def proposed(cutter: Cutter, currency: Currency) -> dict[str, str]:
    """Return the fields of a test mat that this cutter can cut."""
    unit = cutter.unit
    mat = {
        "board": _BOARD[unit],
        "border": min(_BORDER[unit], cutter.on_scale(cutter.guide_reach / 2)),
        "thickness": min(_BOARD_THICKNESS[unit], cutter.deepest_board),
    }
    return TEST_MAT.typed(mat.__getitem__, In(unit, currency))


def read_test_mat(typed: Typed, cutter: Cutter, currency: Currency) -> MatToCut:
    """Read the mat that is cut, which has one window; a number without a mark is in the unit of the
    scale.

    Raises: Invalid with every fault, at the form's fields.
    """
    known = In(cutter.unit, currency)
    read = TEST_MAT.reader(proposed(cutter, currency) | _filled(typed), known)
    board, border, thickness = TEST_MAT.values(read, known).values()
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


def _filled(typed: Typed) -> dict[str, str]:
    return {path: text for path, text in typed.items() if text.strip()}


def _check_border(read: Reader, cutter: Cutter, board: Size, border: Length) -> None:
    if not read.faults and border * 2 >= min(board.width, board.height):
        read.faults.add(
            "border",
            f"Borders of {cutter.say(border)} leave no window in a board of "
            f"{cutter.say(board.width)} by {cutter.say(board.height)}; take less than half of its "
            "shorter side.",
        )


def read_measured(typed: Typed, cutter: Cutter, currency: Currency) -> Measured:
    """Read what was measured; a blank at a corner means that it is clean. Raises: Invalid at the form's fields."""
    values = MEASURED.read(typed, In(cutter.unit, currency))

    def edges(name: str) -> Edges:
        return Edges(**{side: values[f"{name}.{side}"] for side in SIDES})

    return Measured(
        borders=edges("borders"),
        window=Size(values["window.width"], values["window.height"]),
        past_start=edges("past_start"),
        past_end=edges("past_end"),
    )


_OF_CUTTER = {
    "guide_correction",
    "start_offset",
    "end_offset",
    "stops.near_correction",
    "stops.far_correction",
}


def at_the_page(invalid: Invalid) -> tuple[Fault, ...]:
    """Move faults of a correction to the page's fields; a fault of the corrected cutter has no field there."""
    return tuple(
        Fault(path="" if fault.path in _OF_CUTTER else fault.path, message=fault.message)
        for fault in invalid.faults
    )
