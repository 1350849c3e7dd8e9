"""The form of a piece as a table: every field of the quote page, in the order in which people talk.

Paths are those of the JSON contract where it has them. What a shop usually takes is the handbook's own default;
other hints and examples are common practice in round figures.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from app.forms.kinds import (
    AREA,
    LENGTH,
    MASS,
    MONEY,
    PERCENT,
    SIZE,
    TEXT,
    TICK,
    choice,
    text_of,
    whole,
)
from app.forms.table import Form, Typed
from app.framing import Presentation
from app.framing.notices.artwork_weight import Support
from app.framing.spec import Core
from app.lengths import Example, Length, Unit, inches, mm
from app.orders.order import LONGEST_NOTE, ArtworkKind
from app.orders.quoting.choices import CORES, KINDS, PRESENTATIONS, SIZINGS, SUPPORTS, UNITS, Sizing
from app.orders.quoting.frame_fields import fillet_fields, frame_fields
from app.orders.quoting.piece_field import (
    BOARD,
    BORDER,
    EXTRA,
    GLAZING,
    HARDWARE,
    MAT,
    NOTED,
    PACKAGE_HINTS,
    PART,
    SEEN,
    SIZE_HINTS,
    TERM,
    PieceField,
    Role,
    Words,
    handbook,
)
from app.orders.quoting.piece_typed import PieceTyped, is_object
from app.orders.quoting.window_fields import window_fields
from app.pricing import MOST_ALIKE

MOST_MATS = 3
MOST_ROWS = 6
"""Rows of hardware and of extras."""

PHOTO = "artwork.photo"
"""The id of the picture of the artwork."""

WEIGHT_HINTS = {Unit.MM: "2.3 kg, 850 g", Unit.IN: "5 lb 4 oz, 12 oz"}

OBJECT_HEIGHT = Example(mm(40), inches("3/2"))
"""What stands in a box is not as thin as what lies flat."""


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
        role=PART,
        rule="L4",
    )
    yield PieceField(
        "artwork.thickness",
        lambda known: "Height of the object" if is_object(known.typed) else "Thickness",
        LENGTH,
        like=Example(mm("0.3"), inches("1/64")),
        role=PART,
        rule="D1",
    )
    yield PieceField("artwork.title", "Title", TEXT, role=NOTED)
    yield PieceField("artwork.kind", "Kind", choice(ArtworkKind, KINDS), role=NOTED)
    yield PieceField("artwork.support", "Made of", choice(Support, SUPPORTS), role=NOTED)
    yield PieceField(
        "artwork.weight",
        "Weight",
        MASS,
        hint=lambda known: WEIGHT_HINTS[known.shop.unit],
        role=NOTED,
        rule="D8",
    )
    yield PieceField("artwork.condition", "Condition", AREA, role=NOTED)
    yield PieceField("artwork.declared_value", "Declared value", MONEY, role=NOTED)
    yield PieceField("artwork.place", "Stored at", TEXT, role=NOTED)
    yield PieceField(PHOTO, "Photo", replace(TEXT, control="hidden"), role=SEEN)


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
        like=handbook("overlap"),
        usual=lambda known: known.usual.overlap,
        rule="G1",
    )
    yield PieceField("gap", "Float margin", LENGTH, like=handbook("gap"), usual=_gap, rule="G2")
    role = Role(sizes=True, drawn=False)
    yield PieceField("sizing", "What is fixed", choice(Sizing, SIZINGS), role=role, rule="G5")


def _mats() -> Iterator[PieceField]:
    def top_needed(known: PieceTyped) -> bool:
        under = (f"mats.{row}.material" for row in range(1, MOST_MATS))
        return known.presentation == Presentation.WINDOW or (known.matted and known.given(*under))

    def named(place: str, what: str = "") -> Words:
        return lambda known: f"{place} {known.mat}{what}"

    for row, place in enumerate(("Top", "Under", "Third")):
        yield PieceField(
            f"mats.{row}.material",
            named(place),
            MAT,
            needed=False if row else top_needed,
            speaks_for=(f"mats.{row}", *(("mats",), ("under_trim",), ())[row]),
            role=PART,
        )
        yield PieceField(
            f"mats.{row}.core",
            named(place, ", core"),
            choice(Core, CORES),
            role=PART,
            apart=True,
            rule="G8",
        )
        if row:
            yield PieceField(
                f"mats.{row}.reveal",
                "Reveal",
                LENGTH,
                like=handbook("reveal"),
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
            like=BORDER,
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


def _behind() -> Iterator[PieceField]:
    for name, label, kind in (
        ("glazing", "Glazing", GLAZING),
        ("mount_board", "Mount board", BOARD),
        ("backing", "Backing", BOARD),
    ):
        yield PieceField(f"{name}.material", label, kind, speaks_for=(name,), role=PART)
    yield PieceField(
        "spacer.material",
        "Spacers",
        EXTRA,
        needed=lambda known: known.given("spacer.depth"),
        role=PART,
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
        role=PART,
    )


def _terms() -> Iterator[PieceField]:
    count = whole("count", 1, 999)
    for name, label, kind in (
        ("hardware", "Hanging hardware", HARDWARE),
        ("extras", "Extra", EXTRA),
    ):
        for row in range(MOST_ROWS):
            path, called = f"{name}.{row}", f"{label} {row + 1}"
            yield PieceField(f"{path}.material", called, kind, role=TERM)
            yield PieceField(
                f"{path}.count", "Count", count, usual=lambda _known: 1, within=called, role=TERM
            )
    yield PieceField(
        "copies",
        "How many alike",
        whole("number of pieces that are alike", 1, MOST_ALIKE),
        hint="one",
        usual=lambda _known: 1,
        speaks_for=("parts",),
        role=TERM,
        rule="P11",
    )
    yield PieceField(
        "note",
        "Note to the piece",
        text_of(LONGEST_NOTE, "area"),
        hint="Printed on the ticket and shown at the bench.",
        role=NOTED,
    )
    yield PieceField("discount", "Discount, %", PERCENT, role=TERM)
    yield PieceField("rush", "Rush", TICK, role=TERM)


PIECE = Form[PieceTyped](
    *_artwork(),
    *_shown(),
    *_mats(),
    *_borders(),
    *window_fields(),
    *fillet_fields(),
    *frame_fields(),
    *_behind(),
    *_terms(),
    grows=("mats", "windows", "hardware", "extras"),
)

PIECE_FIELDS = PIECE.paths


def piece_typed(form: Typed) -> Typed:
    """Return the piece's fields of a posted form."""
    return {path: form[path] for path in PIECE_FIELDS if path in form}


def _paths_of(has: Callable[[Role], bool]) -> frozenset[str]:
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
