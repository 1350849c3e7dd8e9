"""The form of a piece as a table: every field of the quote page, in the order in which people talk.

Paths are those of the JSON contract where it has them. What a shop usually takes is the handbook's own default;
other hints and examples are common practice in round figures.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from app.forms.table import (
    AREA,
    LENGTH,
    MASS,
    MONEY,
    PERCENT,
    SIZE,
    TEXT,
    TICK,
    Field,
    FieldKind,
    Form,
    Options,
    Typed,
    choice,
    text_of,
    whole,
)
from app.framing import DEFAULTS, MOST_WINDOWS, Align, Presentation, Shape, window_letter
from app.framing.notices.artwork_weight import Support
from app.framing.spec import Core
from app.lengths import Example, Length, Size, Unit, inches, mm
from app.money import Currency
from app.orders.order import LONGEST_NOTE, ArtworkKind
from app.orders.shop import Allowances, Shop
from app.pricing import MOST_ALIKE, Kind, Material

MOST_MATS = 3
MOST_FRAMES = 3
MOST_ROWS = 6
"""Rows of hardware and of extras."""

STANDS_IN_BOX = "artwork.object"
"""Typed by programs alone, as "yes" or "no"; on the quote page the kind of the artwork says it."""

PHOTO = "artwork.photo"
"""The id of the picture of the artwork."""

USUAL_GAP: dict[Unit, Length] = {Unit.MM: mm(40), Unit.IN: inches("3/2")}
"""Between neighbouring windows where nothing else is typed. Common practice, no source."""

USUAL_SLOT_GAP: dict[Unit, Length] = {unit: usual.least_bridge for unit, usual in DEFAULTS.items()}
"""Between a window and the title slot under it: the least board that is usual between windows."""


class Sizing(StrEnum):
    """What is given and what follows: borders, the package, both with the window following, or the outside."""

    BORDERS = "borders"
    PACKAGE = "package"
    BOTH = "both"
    OUTSIDE = "outside"


class FrameSource(StrEnum):
    """Where the frame of a piece comes from (G24); where nothing is chosen it is made."""

    MADE = "made"
    READY_MADE = "ready-made"
    OWN = "own"
    NONE = "none"

    @property
    def given(self) -> bool:
        """Whether it is measured and not made, so that the package follows from it."""
        return self in (FrameSource.READY_MADE, FrameSource.OWN)


class Of(StrEnum):
    """What a typed size is the size of: what lies behind the window, or the hole itself."""

    ARTWORK = "artwork"
    HOLE = "hole"


class Shown(StrEnum):
    """How a window shows its artwork: as the piece does, or in its own way."""

    PIECE = "piece"
    WINDOW = "window"
    FLOAT = "float"


class Placing(StrEnum):
    """Whether rows place the windows or each one says where it is."""

    ROWS = "rows"
    FREE = "free"


UNITS: Options = ((Unit.MM, "millimetres"), (Unit.IN, "inches"))
KINDS: Options = tuple((kind.value, kind.value.capitalize()) for kind in ArtworkKind)
SUPPORTS: Options = (
    ("", "as usual"),
    (Support.PAPER, "paper"),
    (Support.BOARD, "paper or photograph on board"),
    (Support.TEXTILE, "cloth"),
    (Support.CANVAS, "canvas on a stretcher"),
    (Support.HARDBOARD, "hardboard panel"),
    (Support.MDF, "MDF panel"),
    (Support.WOOD, "wooden panel"),
    (Support.ACRYLIC, "acrylic"),
    (Support.GLASS, "glass"),
    (Support.ALUMINIUM, "aluminium composite"),
)
PRESENTATIONS: Options = (
    (Presentation.WINDOW, "Mat overlaps the artwork"),
    (Presentation.FLOAT, "Floated (edges show)"),
    (Presentation.CLOSE, "No mat, straight into the frame"),
    (Presentation.CANVAS, "Stretched canvas, ordinary frame"),
    (Presentation.CANVAS_FLOAT, "Stretched canvas, tray (floater) frame"),
    (Presentation.AS_IT_CAME, "As it came, in a frame that is given"),
)
SIZINGS: Options = (
    (Sizing.BORDERS, "Fix the borders, the glass size follows"),
    (Sizing.PACKAGE, "Fix the glass size, centre the opening"),
    (Sizing.BOTH, "Fix glass size and borders, the opening follows"),
    (Sizing.OUTSIDE, "Fix the outside of the frame, centre the opening"),
)
FRAME_SOURCES: Options = (
    ("", "made from moulding"),
    (FrameSource.READY_MADE, "ready-made frame"),
    (FrameSource.OWN, "the customer’s own, brought in"),
    (FrameSource.NONE, "no frame, handed over without one"),
)
CORES: Options = (
    ("", "white"),
    (Core.CREAM, "cream"),
    (Core.BLACK, "black"),
    (Core.SOLID, "as its face"),
)
PLACINGS: Options = (("", "in rows"), (Placing.FREE, "in free places"))
ALIGNS: Options = (
    ("", "centre"),
    (Align.TOP, "top"),
    (Align.BOTTOM, "bottom"),
)
SIZES_OF: Options = ((Of.ARTWORK, "the artwork"), (Of.HOLE, "the opening itself"))
SHOWN: Options = (
    (Shown.PIECE, "as the piece"),
    (Shown.WINDOW, "mat overlaps"),
    (Shown.FLOAT, "floated (edges show)"),
)
SHAPES: Options = (
    (Shape.RECTANGLE, "rectangle"),
    (Shape.OVAL, "oval or round"),
    (Shape.ARCH, "arched top"),
)

SIZE_HINTS = {
    Unit.MM: '400 x 500, 30 x 40 cm, 16x20", A3 …',
    Unit.IN: "16x20, 15 3/4 x 20, 30 x 40 cm, A3 …",
}
"""How a size may be said. A bare one is in the unit worked in, so the examples are too."""

PACKAGE_HINTS = {
    Unit.MM: '500 x 600, 50 x 60 cm, 20x24" …',
    Unit.IN: "20x24, 20 1/4 x 24, 50 x 60 cm …",
}
"""The same for a package, which is larger than its artwork: usual sizes of frames."""

WEIGHT_HINTS = {Unit.MM: "2.3 kg, 850 g", Unit.IN: "5 lb 4 oz, 12 oz"}

OBJECT_HEIGHT = Example(mm(40), inches("3/2"))
"""What stands in a box is not as thin as what lies flat."""

_BORDER = Example(mm(60), inches("5/2"))
_BETWEEN = Example(mm(40), inches("3/2"))


def unit_of(typed: Mapping[str, str], shop: Shop) -> Unit:
    """Return the piece's unit: as chosen on the page, else the shop's."""
    return Unit(typed["unit"]) if typed.get("unit") in set(Unit) else shop.unit


def is_object(typed: Mapping[str, str]) -> bool:
    """Tell whether what was typed asks for an artwork that stands in a box (G22)."""
    said = typed.get(STANDS_IN_BOX, "").strip()
    if said:
        return said == "yes"
    return typed.get("artwork.kind", "").strip() == ArtworkKind.OBJECT.value


@dataclass(frozen=True, slots=True)
class PieceTyped:
    """What the form of a piece follows from: the shop, and what was typed in its other fields."""

    shop: Shop
    typed: Mapping[str, str]

    @property
    def unit(self) -> Unit:
        """The piece's unit."""
        return unit_of(self.typed, self.shop)

    @property
    def currency(self) -> Currency:
        """The shop's."""
        return self.shop.currency

    @property
    def usual(self) -> Allowances:
        """What the shop starts with in the piece's unit."""
        return self.shop.allowances_in(self.unit)

    @property
    def mat(self) -> str:
        """As the shop calls a window board."""
        return self.shop.mat_word.value

    @property
    def presentation(self) -> str:
        """As chosen; over the edges where it is not."""
        return self.typed.get("presentation") or Presentation.WINDOW.value

    @property
    def matted(self) -> bool:
        """Whether the artwork is shown in a window."""
        return self.presentation in (Presentation.WINDOW, Presentation.FLOAT)

    @property
    def canvas(self) -> bool:
        """Whether the artwork is a canvas, which sets the size of a frame that is made for it."""
        return self.presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT)

    @property
    def sizing(self) -> Sizing:
        """What is given; borders where it is not said."""
        said = self.typed.get("sizing", "").strip()
        return Sizing(said) if said in set(Sizing) else Sizing.BORDERS

    @property
    def source(self) -> FrameSource:
        """Where the frame comes from; made where it is not said."""
        said = self.typed.get("frame.source", "").strip()
        return FrameSource(said) if said in set(FrameSource) else FrameSource.MADE

    @property
    def frame_to_come(self) -> bool:
        """Whether a frame is to be made and no moulding is chosen for it yet."""
        as_it_came = self.presentation == Presentation.AS_IT_CAME
        return (
            self.source is FrameSource.MADE
            and not as_it_came
            and not self.given("frames.0.material")
        )

    def given(self, *paths: str) -> bool:
        """Tell whether anything was typed in any of some fields."""
        return any(self.typed.get(path, "").strip() for path in paths)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Role:
    """noted: says of the artwork what neither design nor price follow from. sizes: other parts are as large as this
    field says. drawn: it shows in the drawing.
    """

    noted: bool = False
    sizes: bool = False
    drawn: bool = True


_NOTED = _Role(noted=True, drawn=False)
_SEEN = _Role(noted=True)
_SIZES = _Role(sizes=True)
_PART = _Role()
_TERM = _Role(drawn=False)


@dataclass(frozen=True, slots=True)
class PieceField(Field[PieceTyped]):
    """A field of a piece. speaks_for: paths of a spec, by their last rows, whose faults stand here."""

    role: _Role = _SIZES
    speaks_for: tuple[str, ...] = ()


def _material(kind: Kind) -> FieldKind[Material | None]:
    """Return a material of one kind, by its code or as much of its name as only it has."""
    return FieldKind(
        control="finder",
        read=lambda read, path, _usual: read.material(path, kind),  # type: ignore[attr-defined]
        text=lambda material, _known: material.code if material else "",
        find=kind.value,
    )


_MOULDING, _MAT, _GLAZING, _BOARD, _HARDWARE, _EXTRA, _READY_MADE = (
    _material(kind) for kind in Kind if kind is not Kind.GOODS
)


def _or_as_a(row: int, options: Options) -> Options:
    """Return the choices of a window; blank is the usual one for window A, and for the others as A has it."""
    (_, usual), *others = options
    return (("", usual), *others) if row == 0 else (("", "as A"), *options)


def _handbook(name: str) -> Example:
    """Return the handbook's default as an example."""

    def of(unit: Unit) -> Length:
        length: Length = getattr(DEFAULTS[unit], name)
        return length

    return Example.of(of)


type _Words = Callable[[PieceTyped], str]


def _artwork_needed(known: PieceTyped) -> bool:
    as_it_came = known.presentation == Presentation.AS_IT_CAME
    return not as_it_came and not known.given("windows.0.size")


def _artwork() -> Iterator[PieceField]:
    yield PieceField(
        "unit",
        "Units for this piece",
        choice(Unit, UNITS),
    )
    yield PieceField(
        "artwork.size",
        "Artwork size",
        SIZE,
        hint=lambda known: SIZE_HINTS[known.unit],
        needed=_artwork_needed,
        asked=True,
        speaks_for=("artwork",),
        role=_PART,
        rule="L4",
    )
    yield PieceField(
        "artwork.thickness",
        lambda known: "Height of the object" if is_object(known.typed) else "Thickness",
        LENGTH,
        like=Example(mm("0.3"), inches("1/64")),
        role=_PART,
        rule="D1",
    )
    yield PieceField("artwork.title", "Title", TEXT, role=_NOTED)
    yield PieceField("artwork.kind", "Kind", choice(ArtworkKind, KINDS), role=_NOTED)
    yield PieceField("artwork.support", "Made of", choice(Support, SUPPORTS), role=_NOTED)
    yield PieceField(
        "artwork.weight",
        "Weight",
        MASS,
        hint=lambda known: WEIGHT_HINTS[known.shop.unit],
        role=_NOTED,
        rule="D8",
    )
    yield PieceField("artwork.condition", "Condition", AREA, role=_NOTED)
    yield PieceField("artwork.declared_value", "Declared value", MONEY, role=_NOTED)
    yield PieceField("artwork.place", "Stored at", TEXT, role=_NOTED)
    yield PieceField(PHOTO, "Photo", replace(TEXT, control="hidden"), role=_SEEN)


def _gap(known: PieceTyped) -> Length:
    tray = known.presentation == Presentation.CANVAS_FLOAT
    return known.usual.canvas_gap if tray else known.usual.gap


def _shown() -> Iterator[PieceField]:
    yield PieceField(
        "presentation", "How it is mounted", choice(Presentation, PRESENTATIONS), rule="G1"
    )
    yield PieceField(
        "overlap",
        "Overlap at each edge",
        LENGTH,
        like=_handbook("overlap"),
        usual=lambda known: known.usual.overlap,
        rule="G1",
    )
    yield PieceField("gap", "Float margin", LENGTH, like=_handbook("gap"), usual=_gap, rule="G2")
    role = _Role(sizes=True, drawn=False)
    yield PieceField("sizing", "What is fixed", choice(Sizing, SIZINGS), role=role, rule="G5")


def _mats() -> Iterator[PieceField]:
    def top_needed(known: PieceTyped) -> bool:
        under = (f"mats.{row}.material" for row in range(1, MOST_MATS))
        return known.presentation == Presentation.WINDOW or (known.matted and known.given(*under))

    def named(place: str, what: str = "") -> _Words:
        return lambda known: f"{place} {known.mat}{what}"

    for row, place in enumerate(("Top", "Under", "Third")):
        yield PieceField(
            f"mats.{row}.material",
            named(place),
            _MAT,
            needed=False if row else top_needed,
            speaks_for=(f"mats.{row}", *(("mats",), ("under_trim",), ())[row]),
            role=_PART,
        )
        yield PieceField(
            f"mats.{row}.core",
            named(place, ", core"),
            choice(Core, CORES),
            role=_PART,
            apart=True,
            rule="G8",
        )
        if row:
            yield PieceField(
                f"mats.{row}.reveal",
                "Reveal",
                LENGTH,
                like=_handbook("reveal"),
                usual=lambda known: known.usual.reveal,
                within=named(place),
                rule="G3",
            )


def _package_needed(known: PieceTyped) -> bool:
    by_package = known.sizing in (Sizing.PACKAGE, Sizing.BOTH)
    return by_package and not known.canvas and not known.source.given


def _outside_needed(known: PieceTyped) -> bool:
    return known.sizing is Sizing.OUTSIDE and not known.canvas and not known.source.given


def _borders() -> Iterator[PieceField]:
    hints = {"left": "", "right": "as left", "top": "as left", "bottom": "as top"}
    for side, hint in hints.items():
        yield PieceField(
            f"borders.{side}",
            side.capitalize(),
            LENGTH,
            like=_BORDER,
            usual=lambda known: known.usual.border,
            hint=hint,
            within="Border",
            asked=True,
            speaks_for=("borders",) if side == "left" else (),
        )
    yield PieceField(
        "weighting",
        "More at the bottom",
        LENGTH,
        like=Example(mm(10), inches("3/8")),
        usual=lambda known: known.usual.weighting,
        asked=True,
        rule="G4",
    )
    yield PieceField(
        "package.size",
        "Glass size",
        SIZE,
        hint=lambda known: PACKAGE_HINTS[known.unit],
        needed=_package_needed,
        asked=True,
        speaks_for=("package",),
        rule="G5",
    )
    yield PieceField(
        "outside.size",
        "Outside of the frame",
        SIZE,
        hint="from edge to edge, as said",
        needed=_outside_needed,
        asked=True,
        speaks_for=("outside",),
        rule="G23",
    )


def _windows() -> Iterator[PieceField]:
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
        yield PieceField(path, f"Gap {way}", LENGTH, like=_BETWEEN)
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
        role=_PART,
    )


def _window(row: int) -> Iterator[PieceField]:
    path, letter = f"windows.{row}", f"Window {window_letter(row)}"

    def length(name: str, label: str, like: Example, hint: str = "", *also: str) -> PieceField:
        also = tuple(f"{path}.{each}" for each in also)
        return PieceField(
            f"{path}.{name}", label, LENGTH, like=like, hint=hint, within=letter, speaks_for=also
        )

    def chosen(name: str, label: str, of: type[StrEnum], options: Options) -> PieceField:
        kind = choice(of, _or_as_a(row, options))
        return PieceField(
            f"{path}.{name}",
            label,
            kind,
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
    yield chosen("kind", "The size is of", Of, SIZES_OF)
    yield chosen("shown", "How it is mounted", Shown, SHOWN)
    yield length("edge", "Overlap or float margin", _handbook("overlap"), "usual", "overlap", "gap")
    yield chosen("shape", "Shape", Shape, SHAPES)
    yield length("rise", "Rise of the arch", _BORDER, "as A" if row else "half round")
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
        like=_handbook("least_bridge"),
        usual=lambda known: USUAL_SLOT_GAP[known.unit],
        within=letter,
        speaks_for=(f"{path}.slot.gap",),
    )
    yield length("x", "From the left", _BORDER)
    yield length("y", "From the top", _BORDER)


def _fillet() -> Iterator[PieceField]:
    yield PieceField(
        "fillet.material",
        "Fillet in the window",
        _MOULDING,
        needed=lambda known: known.matted and known.given("fillet.tuck", "fillet.depth"),
        speaks_for=("fillet",),
        role=_PART,
        rule="G19",
    )
    yield PieceField(
        "fillet.tuck",
        lambda known: f"Hidden behind {known.mat}",
        LENGTH,
        like=Example(mm(4), inches("3/16")),
        hint="its lip",
        within="Fillet",
        role=_PART,
    )
    yield PieceField(
        "fillet.depth",
        lambda known: f"Thickness behind {known.mat}",
        LENGTH,
        like=Example(mm(3), inches("1/8")),
        hint="with a rule",
        within="Fillet",
        needed=lambda known: known.matted and known.given("fillet.material"),
        speaks_for=("fillet.thickness",),
        role=_PART,
    )


def _given_frame() -> Iterator[PieceField]:
    """Yield the fields of a frame that is not made: which one of the price book, or what is measured of the customer's own (G24)."""

    def is_own(known: PieceTyped) -> bool:
        return known.source is FrameSource.OWN

    def measure(
        name: str, label: str, kind: FieldKind[Any], like: Example, hint: str = ""
    ) -> PieceField:
        needed = is_own if name in ("rebate", "depth") else False
        path = f"given_frame.{name}"
        return PieceField(
            path, label, kind, like=like, hint=hint, within="Frame", needed=needed, asked=True
        )

    rebate = Example(Size(mm(402), mm(502)), Size(inches("129/8"), inches("161/8")))
    yield PieceField(
        "frame.source",
        "The frame is",
        choice(FrameSource, FRAME_SOURCES),
        rule="G24",
    )
    yield PieceField(
        "given_frame.material",
        "Ready-made frame",
        _READY_MADE,
        needed=lambda known: known.source is FrameSource.READY_MADE,
        speaks_for=("given_frame",),
        asked=True,
    )
    yield measure(
        "rebate", "Rebate, width × height", SIZE, rebate, "measured at the top and the left"
    )
    yield measure("depth", "Rebate depth", LENGTH, Example(mm(15), inches("5/8")))
    yield measure(
        "opposite", "The same at the bottom and the right", SIZE, rebate, "where it differs"
    )
    yield measure(
        "diagonals",
        "Diagonals",
        SIZE,
        Example(Size(mm(645), mm(641)), Size(inches("203/8"), inches("101/4"))),
        "top left to bottom right × bottom left to top right",
    )
    outside = Example(Size(mm(430), mm(530)), Size(inches("69/4"), inches("85/4")))
    yield measure("outside", "Outside, measured", SIZE, outside)
    yield measure("face", "Face width", LENGTH, Example(mm(20), inches("3/4")))
    yield measure("lip", "Lip", LENGTH, Example(mm(6), inches("1/4")))


def _frame() -> Iterator[PieceField]:
    yield from _given_frame()
    for row, label in enumerate(("Moulding", "Second frame (outer)", "Third frame (outermost)")):
        path = f"frames.{row}"
        yield PieceField(
            f"{path}.material", label, _MOULDING, speaks_for=(path,), role=_PART, asked=True
        )
    yield PieceField(
        "allowance",
        "Play in the rebate (total)",
        LENGTH,
        like=_handbook("allowance"),
        usual=lambda known: known.usual.allowance,
        speaks_for=(
            *(f"frames.{row}.allowance" for row in range(MOST_FRAMES)),
            "given_frame.allowance",
        ),
        role=_PART,
        rule="G11",
    )


def _behind() -> Iterator[PieceField]:
    for name, label, kind in (
        ("glazing", "Glazing", _GLAZING),
        ("mount_board", "Mount board", _BOARD),
        ("backing", "Backing", _BOARD),
    ):
        yield PieceField(f"{name}.material", label, kind, speaks_for=(name,), role=_PART)
    yield PieceField(
        "spacer.material",
        "Spacers",
        _EXTRA,
        needed=lambda known: known.given("spacer.depth"),
        role=_PART,
        rule="G14",
    )
    yield PieceField(
        "spacer.depth",
        "Depth",
        LENGTH,
        like=Example(mm(5), inches("3/16")),
        within="Spacers",
        hint="Blank for the depth of the strip itself, where the price book knows it.",
        speaks_for=("spacer", "spacer_width"),
        role=_PART,
    )


def _terms() -> Iterator[PieceField]:
    count = whole("count", 1, 999)
    for name, label, kind in (
        ("hardware", "Hanging hardware", _HARDWARE),
        ("extras", "Extra", _EXTRA),
    ):
        for row in range(MOST_ROWS):
            path, called = f"{name}.{row}", f"{label} {row + 1}"
            yield PieceField(f"{path}.material", called, kind, role=_TERM)
            yield PieceField(
                f"{path}.count", "Count", count, usual=lambda _known: 1, within=called, role=_TERM
            )
    yield PieceField(
        "copies",
        "How many alike",
        whole("number of pieces that are alike", 1, MOST_ALIKE),
        hint="one",
        usual=lambda _known: 1,
        speaks_for=("parts",),
        role=_TERM,
        rule="P11",
    )
    yield PieceField(
        "note",
        "Note to the piece",
        text_of(LONGEST_NOTE, "area"),
        hint="Printed on the ticket and shown at the bench.",
        role=_NOTED,
    )
    yield PieceField("discount", "Discount, %", PERCENT, role=_TERM)
    yield PieceField("rush", "Rush", TICK, role=_TERM)


PIECE = Form[PieceTyped](
    *_artwork(),
    *_shown(),
    *_mats(),
    *_borders(),
    *_windows(),
    *_fillet(),
    *_frame(),
    *_behind(),
    *_terms(),
    grows=("mats", "windows", "hardware", "extras"),
)

PIECE_FIELDS = PIECE.paths


def piece_typed(form: Typed) -> Typed:
    """Return the piece's fields of a posted form."""
    return {path: form[path] for path in PIECE_FIELDS if path in form}


def _paths_of(has: Callable[[_Role], bool]) -> frozenset[str]:
    return frozenset(
        field.path for field in PIECE.fields if isinstance(field, PieceField) and has(field.role)
    )


ARTWORK_FACTS = tuple(path for path in PIECE_FIELDS if path in _paths_of(lambda role: role.noted))
"""The fields that leave design and price alone."""

TELL_SIZES = _paths_of(lambda role: role.sizes)
"""The fields that other parts take their sizes from; a mat's material says only how thick it is."""

NOT_DRAWN = _paths_of(lambda role: not role.drawn)
"""The fields that do not show in the drawing."""

_SPOKEN_FOR = {
    path: field.path
    for field in PIECE.fields
    if isinstance(field, PieceField)
    for path in field.speaks_for
}


def form_path(path: str) -> str:
    """Return the field at which a fault of a spec stands: its own, or that which speaks for it or for what it is of."""
    of = path
    while of:
        if of in PIECE.at or of in _SPOKEN_FOR:
            return _SPOKEN_FOR.get(of, of)
        of = of.rpartition(".")[0]
    return path
