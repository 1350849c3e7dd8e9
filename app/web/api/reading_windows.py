"""Several windows of a request as openings and their arrangement."""

from app.framing import Align, Arrangement, Opening, Point, Shape, Slot, rows_of, window_letter
from app.lengths import Size
from app.web.api.reading import RequestReader
from app.web.api.requests_windows import ArrangementAsked, SlotAsked, WindowAsked


def read_openings(read: RequestReader, asked: tuple[WindowAsked, ...]) -> tuple[Opening, ...]:
    """The windows in their order, those without a name by their letter."""
    return tuple(_opening(read, index, window) for index, window in enumerate(asked))


def _opening(read: RequestReader, index: int, asked: WindowAsked) -> Opening:
    path = f"windows.{index}"
    return Opening(
        name=window_letter(index) if asked.id is None else asked.id,
        artwork=None if asked.artwork is None else read.size(f"{path}.artwork", asked.artwork),
        window=_window(read, path, asked),
        floats=None if asked.presentation is None else asked.presentation == "float",
        overlap=read.optional(f"{path}.overlap", asked.overlap),
        gap=read.optional(f"{path}.gap", asked.gap),
        shape=Shape(asked.shape),
        rise=read.optional(f"{path}.rise", asked.rise),
        at=_place(read, path, asked),
        slot=_slot(read, f"{path}.slot", asked.slot),
    )


def _window(read: RequestReader, path: str, asked: WindowAsked) -> Size | None:
    if asked.width is None and asked.height is None:
        return None
    _both(read, path, ("width", asked.width), ("height", asked.height))
    return Size(
        width=read.length(f"{path}.width", asked.width),
        height=read.length(f"{path}.height", asked.height),
    )


def _place(read: RequestReader, path: str, asked: WindowAsked) -> Point | None:
    if asked.x is None and asked.y is None:
        return None
    _both(read, path, ("x", asked.x), ("y", asked.y))
    return Point(x=read.length(f"{path}.x", asked.x), y=read.length(f"{path}.y", asked.y))


def _both(read: RequestReader, path: str, *fields: tuple[str, str | None]) -> None:
    """A fault where only one of two fields that go together was given."""
    for (name, text), (other, _) in zip(fields, reversed(fields), strict=True):
        if text is None:
            read.faults.add(
                f"{path}.{name}", f"This field is missing; it goes with {other}.", "missing"
            )


def _slot(read: RequestReader, path: str, asked: SlotAsked | None) -> Slot | None:
    if asked is None:
        return None
    return Slot(
        size=Size(
            width=read.length(f"{path}.width", asked.width),
            height=read.length(f"{path}.height", asked.height),
        ),
        gap=read.length(f"{path}.gap", asked.gap),
    )


def read_arrangement(
    read: RequestReader, asked: ArrangementAsked | None, windows: int
) -> Arrangement | None:
    """The rows, as given or by columns; one row where neither was given."""
    if asked is None:
        return None
    if asked.rows is not None and asked.columns is not None:
        read.faults.add(
            "arrangement.columns",
            "Rows and columns were both given; one of them says how the windows stand.",
        )
    rows = asked.rows
    if rows is None:
        rows = (windows,) if asked.columns is None else rows_of(windows, asked.columns)
    return Arrangement(
        rows=rows,
        align=Align(asked.align),
        across=read.optional("arrangement.across", asked.across),
        down=read.optional("arrangement.down", asked.down),
    )
