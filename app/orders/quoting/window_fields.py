"""The fields of the windows of a piece: how many, where they lie, and each by itself."""

from collections.abc import Iterator
from enum import StrEnum

from app.forms.kinds import LENGTH, SIZE, TEXT, Options, choice, whole
from app.framing import DEFAULTS, MOST_WINDOWS, Align, Shape, window_letter
from app.lengths import Example, Length, Size, Unit, inches, mm
from app.orders.quoting.choices import ALIGNS, PLACINGS, SHAPES, SHOWN, SIZES_OF, Of, Placing, Shown
from app.orders.quoting.piece_field import BETWEEN, BORDER, PART, PieceField, handbook

USUAL_GAP: dict[Unit, Length] = {Unit.MM: mm(40), Unit.IN: inches("3/2")}
"""Between neighbouring windows where nothing else is typed. Common practice, no source."""

USUAL_SLOT_GAP: dict[Unit, Length] = {unit: usual.least_bridge for unit, usual in DEFAULTS.items()}
"""Between a window and the title slot under it: the least board that is usual between windows."""


def _or_as_a(row: int, options: Options) -> Options:
    """Return the choices of a window; blank is the usual one for window A, and for the others as A has it."""
    (_, usual), *others = options
    return (("", usual), *others) if row == 0 else (("", "as A"), *options)


ONE_BEHIND_ALL = "One artwork behind all windows: the opening itself"
"""At window A, which the others follow: how a piece says that its artwork reaches behind all of them."""


def window_fields() -> Iterator[PieceField]:
    """Yield the fields of the windows, those of all of them first."""
    count = whole("count", 1, MOST_WINDOWS)
    yield PieceField(
        "windows.count",
        "Windows",
        count,
        usual=lambda _known: 1,
        speaks_for=("windows",),
        rule="G9",
    )
    yield PieceField(
        "arrangement.rows",
        "Windows in each row",
        TEXT,
        hint="such as 3, 2; blank: all in one row",
    )
    yield PieceField(
        "arrangement.align",
        "Align rows",
        choice(Align, ALIGNS),
    )
    for way in ("across", "down"):
        path = f"arrangement.{way}"
        yield PieceField(path, f"Gap {way}", LENGTH, like=BETWEEN)
    yield PieceField(
        "arrangement.placing",
        "Layout",
        choice(Placing, PLACINGS),
        speaks_for=("arrangement",),
    )
    for row in range(MOST_WINDOWS):
        yield from _window(row)
    yield PieceField(
        "groove",
        "V-groove, distance from opening",
        LENGTH,
        like=Example(mm(6), inches("1/4")),
        role=PART,
    )


def _window(row: int) -> Iterator[PieceField]:
    path, letter = f"windows.{row}", f"Window {window_letter(row)}"

    def length(name: str, label: str, like: Example, hint: str = "", *also: str) -> PieceField:
        also = tuple(f"{path}.{each}" for each in also)
        return PieceField(
            f"{path}.{name}", label, LENGTH, like=like, hint=hint, within=letter, speaks_for=also
        )

    def chosen(
        name: str, label: str, of: type[StrEnum], options: Options, hint: str = ""
    ) -> PieceField:
        kind = choice(of, _or_as_a(row, options))
        return PieceField(
            f"{path}.{name}",
            label,
            kind,
            hint=hint,
            within=letter,
        )

    yield PieceField(
        f"{path}.size",
        letter,
        SIZE,
        hint="as A" if row else "as above",
        asked=True,
        speaks_for=(path,),
    )
    yield chosen("kind", "The size is of", Of, SIZES_OF, "" if row else ONE_BEHIND_ALL)
    yield chosen("shown", "How it is mounted", Shown, SHOWN)
    yield length("edge", "Overlap or float margin", handbook("overlap"), "usual", "overlap", "gap")
    yield chosen("shape", "Shape", Shape, SHAPES)
    yield length("rise", "Rise of the arch", BORDER, "as A" if row else "half round")
    yield PieceField(
        f"{path}.slot",
        "Title slot under it",
        SIZE,
        hint="none",
        within=letter,
        like=Example(Size(mm(60), mm(12)), Size(inches("5/2"), inches("1/2"))),
    )
    yield PieceField(
        f"{path}.slot_gap",
        "Gap above it",
        LENGTH,
        like=handbook("least_bridge"),
        usual=lambda known: USUAL_SLOT_GAP[known.unit],
        within=letter,
        speaks_for=(f"{path}.slot.gap",),
    )
    yield length("x", "From the left", BORDER)
    yield length("y", "From the top", BORDER)
