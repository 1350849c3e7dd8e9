"""Several windows of a price request as the fields of the quote page, and their faults the way back."""

from app.errors import FaultCollector, Invalid
from app.lengths import Unit, exact_text, parse_length
from app.web.api.requests_windows import ArrangementAsked, WindowAsked

_SPOKEN_FOR = {"windows.count": "windows", "arrangement.placing": "arrangement"}


def size_text(
    sides: tuple[str | None, str | None], path: str, unit: Unit, faults: FaultCollector
) -> str:
    """Width and height as one size is typed, each read for itself: a mark is for its own side."""
    texts = []
    for name, side in zip(("width", "height"), sides, strict=True):
        try:
            length = parse_length(side or "", unit=unit, path=f"{path}.{name}")
            texts.append(exact_text(length, unit))
        except Invalid as invalid:
            faults.take(invalid)
    return " x ".join(texts)


def typed_windows(
    windows: tuple[WindowAsked, ...], unit: Unit, faults: FaultCollector, *, floats: bool
) -> dict[str, str]:
    """The fields of each window; what it does not say is as the piece has it, not as window A.

    floats: whether the piece is shown floating.
    """
    if not windows:
        return {}
    free = any(window.x is not None or window.y is not None for window in windows)
    typed = {"windows.count": str(len(windows)), "arrangement.placing": "free" if free else ""}
    for row, window in enumerate(windows):
        fields = _window(window, floats=floats) | _sizes(window, f"windows.{row}", unit, faults)
        typed |= {f"windows.{row}.{name}": text for name, text in fields.items() if text}
    return typed


def _window(asked: WindowAsked, *, floats: bool) -> dict[str, str | None]:
    floats = asked.presentation == "float" if asked.presentation else floats
    return {
        "name": asked.id,
        "kind": "artwork" if asked.artwork else "hole",
        "shown": asked.presentation or "piece",
        "edge": asked.gap if floats else asked.overlap,
        "shape": asked.shape,
        "rise": asked.rise,
        "slot_gap": asked.slot.gap if asked.slot else None,
        "x": asked.x,
        "y": asked.y,
    }


def _sizes(
    asked: WindowAsked, path: str, unit: Unit, faults: FaultCollector
) -> dict[str, str | None]:
    of, where = (asked.artwork, f"{path}.artwork") if asked.artwork else (asked, path)
    sizes: dict[str, str | None] = {"size": size_text((of.width, of.height), where, unit, faults)}
    if asked.slot is not None:
        sides = (asked.slot.width, asked.slot.height)
        sizes["slot"] = size_text(sides, f"{path}.slot", unit, faults)
    return sizes


def typed_arrangement(asked: ArrangementAsked | None) -> dict[str, str]:
    """The rows, how they meet and their gaps."""
    if asked is None:
        return {}
    rows = ", ".join(map(str, asked.rows)) if asked.rows else str(asked.columns or "")
    typed = {
        "arrangement.rows": rows,
        "arrangement.align": asked.align,
        "arrangement.across": asked.across,
        "arrangement.down": asked.down,
    }
    return {path: text for path, text in typed.items() if text}


def check_windows(
    windows: tuple[WindowAsked, ...], arrangement: ArrangementAsked | None, faults: FaultCollector
) -> None:
    """What a request can say in two ways, or by half, and the quote page cannot."""
    for row, window in enumerate(windows):
        path, sides = f"windows.{row}", (window.width, window.height)
        if window.artwork is not None and sides != (None, None):
            faults.add(path, "Give either its artwork, or width and height of the window.")
        if (window.x is None) != (window.y is None):
            faults.add(path, "x and y go together; one of them is missing.")
    if len({window.x is None for window in windows}) > 1:
        faults.add("windows", "Give every window its place, or none and let rows place them.")
    if arrangement is not None:
        _check_arrangement(windows, arrangement, faults)


def _check_arrangement(
    windows: tuple[WindowAsked, ...], asked: ArrangementAsked, faults: FaultCollector
) -> None:
    if asked.rows is not None and asked.columns is not None:
        faults.add(
            "arrangement.columns",
            "Rows and columns were both given; one of them says how the windows stand.",
        )
    if asked.rows is not None and sum(asked.rows) != max(len(windows), 1):
        faults.add(
            "arrangement.rows",
            f"The rows hold {sum(asked.rows)} windows, but {max(len(windows), 1)} were given.",
        )
    if any(window.x is not None for window in windows):
        faults.add("arrangement", "Every window was given its place and rows were given as well.")


def request_path(path: str, windows: tuple[WindowAsked, ...]) -> str:
    """The path of the request that a field of the quote page speaks for."""
    match path.split("."):
        case ["windows", row, "size"] if row.isdigit() and int(row) < len(windows):
            return f"windows.{row}.artwork" if windows[int(row)].artwork else f"windows.{row}"
        case ["windows", row, "edge"]:
            return f"windows.{row}"
        case ["windows", row, "slot_gap"]:
            return f"windows.{row}.slot.gap"
    return _SPOKEN_FOR.get(path, path)
