"""The windows on the quote page: how many, in what rows, and each one's own fields."""

from collections.abc import Mapping
from dataclasses import dataclass, fields

from app.framing import MOST_WINDOWS, Dimensions, window_letter
from app.lengths import Length, Unit, show
from app.orders.quoting.reader import WINDOW_FIELDS
from app.orders.quoting.windows import USUAL_SLOT_GAP, window_count
from app.web.kit.fields import Fields, FieldView, Options

ALIGNS: Options = (("", "at their centres"), ("top", "at their tops"), ("bottom", "at their feet"))
PLACINGS: Options = (("", "in rows"), ("free", "in free places"))
KINDS: Options = (("artwork", "the artwork"), ("hole", "the window itself"))
SHOWN: Options = (
    ("piece", "as the piece"),
    ("window", "over the edges"),
    ("float", "floating"),
)
SHAPES: Options = (("rectangle", "rectangle"), ("oval", "oval or round"), ("arch", "arched top"))

LENGTHS = ("edge", "rise", "slot_gap", "x", "y")
"""Fields of a window that are one length."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowFields:
    """One window's row. wanted: False where it is kept only for what was typed in it.

    own: whether anything beside size and place was typed, or is wrong.
    """

    row: int
    name: str
    wanted: bool
    own: bool
    size: FieldView
    x: FieldView
    y: FieldView
    kind: FieldView
    shown: FieldView
    edge: FieldView
    shape: FieldView
    rise: FieldView
    slot: FieldView
    slot_gap: FieldView

    @property
    def there(self) -> bool:
        """Whether the page that was posted has the row already."""
        return self.size.there

    @property
    def all(self) -> tuple[FieldView, ...]:
        """Every field of the row."""
        named = (getattr(self, part.name) for part in fields(self))
        return tuple(field for field in named if isinstance(field, FieldView))


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowsFields:
    """The fields of all windows together, and their rows. unfolded: whether any of it is used."""

    count: FieldView
    placing: FieldView
    rows: FieldView
    align: FieldView
    across: FieldView
    down: FieldView
    groove: FieldView
    each: tuple[WindowFields, ...]
    unfolded: bool

    @property
    def alone(self) -> tuple[FieldView, ...]:
        """The fields outside of the rows."""
        named = (getattr(self, part.name) for part in fields(self))
        return tuple(field for field in named if isinstance(field, FieldView))


def windows_fields(make: Fields, typed: Mapping[str, str], unit: Unit) -> WindowsFields:
    """The fields of the windows with what was typed, understood and wrong."""
    together = {
        "count": make.field("windows.count", "Windows", hint="1"),
        "placing": make.field("layout.placing", "They stand", options=PLACINGS),
        "rows": make.field("layout.rows", "In each row", hint="4, or 3, 2; blank is one row"),
        "align": make.field("layout.align", "Rows meet", options=ALIGNS),
        "across": make.field("layout.across", "Gap across"),
        "down": make.field("layout.down", "Gap down"),
        "groove": make.field("groove", "Groove, from the window"),
    }
    wanted, kept = window_count(typed), _last_typed(typed) + 1
    each = tuple(_window(make, row, row < wanted, unit) for row in range(max(wanted, kept)))
    used = any(field.value or field.error for field in together.values())
    return WindowsFields(
        **together,
        each=each,
        unfolded=used
        or any(_filled(window.size, window.x, window.y) or window.own for window in each),
    )


def _last_typed(typed: Mapping[str, str]) -> int:
    """The last row in which anything was typed; -1 where none was."""
    rows = range(MOST_WINDOWS - 1, -1, -1)
    typed_in = (
        row
        for row in rows
        if any(typed.get(f"windows.{row}.{name}", "").strip() for name in WINDOW_FIELDS)
    )
    return next(typed_in, -1)


def _filled(*fields: FieldView) -> bool:
    return any(field.value or field.error for field in fields)


def _window(make: Fields, row: int, wanted: bool, unit: Unit) -> WindowFields:
    name = window_letter(row)
    inner = make.within(f"Window {name}")

    def field(part: str, label: str, hint: str | None = None) -> FieldView:
        return inner.field(f"windows.{row}.{part}", label, hint=hint)

    def choice(part: str, label: str, options: Options) -> FieldView:
        return inner.field(f"windows.{row}.{part}", label, options=_or_as_a(row, options))

    own = {
        "kind": choice("kind", "The size is that of", KINDS),
        "shown": choice("shown", "Shown", SHOWN),
        "edge": field("edge", "Overlap or gap", "usual"),
        "shape": choice("shape", "Shape", SHAPES),
        "rise": field("rise", "Rise of the arch", "half round" if row == 0 else "as A"),
        "slot": field("slot", "Title slot under it", "none"),
        "slot_gap": field("slot_gap", "Gap above it", show(USUAL_SLOT_GAP[unit], unit)),
    }
    return WindowFields(
        row=row,
        name=name,
        wanted=wanted,
        own=_filled(*own.values()),
        size=make.asked_about(
            f"windows.{row}.size", f"Window {name}", hint="as A" if row else "as above"
        ),
        x=field("x", "From the left"),
        y=field("y", "From the top"),
        **own,
    )


def _or_as_a(row: int, options: Options) -> Options:
    """The choices of a window; blank is the usual one for window A, and for the others as A has it."""
    (_, usual), *others = options
    return (("", usual), *others) if row == 0 else (("", "as A"), *options)


def is_window_length(path: str) -> bool:
    """Whether a field about windows is one length."""
    if path in ("layout.across", "layout.down", "groove"):
        return True
    return path.startswith("windows.") and path.rpartition(".")[2] in LENGTHS


def came_out(dimensions: Dimensions, typed: Mapping[str, str]) -> dict[str, str]:
    """What gaps, and places, that were left blank came to, at their fields."""
    unit = dimensions.spec.unit
    came: dict[str, Length | None] = {}
    if dimensions.gaps is not None:
        came = {"layout.across": dimensions.gaps.across, "layout.down": dimensions.gaps.down}
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
