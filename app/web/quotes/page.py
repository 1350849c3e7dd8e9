"""The quote page: one form for customer and piece, with what it comes to beside it."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, fields
from datetime import date
from functools import cache

from app.errors import Fault, Invalid
from app.framing import Presentation
from app.framing.mass import mass_text, parse_mass, usual_text
from app.framing.notices.artwork_weight import Support
from app.lengths import Length, Unit, parse_length, show
from app.orders import ArtworkKind, Customer, MatWord, Shop
from app.orders.quoting.object import is_object
from app.orders.quoting.partial import SoFar
from app.orders.quoting.reader import MOST_FRAMES, MOST_MATS, MOST_ROWS, PIECE_FIELDS
from app.orders.quoting.request import Sizing, unit_of
from app.pricing import Chosen
from app.web.kit.fields import Fields, FieldView, Options, Question
from app.web.kit.templating import Page
from app.web.pieces.piece import VIEW_LABELS, DrawingView, PieceView, understood_size
from app.web.pieces.stock import FromRack, ReallyUsed
from app.web.quotes.partial import SoFarView
from app.web.quotes.said import is_it
from app.web.quotes.sizes import OffersView
from app.web.quotes.windows import WindowsFields, is_window_length, windows_fields

PRESENTATIONS: Options = (
    (Presentation.WINDOW, "Window over the edges"),
    (Presentation.FLOAT, "Floating in a window"),
    (Presentation.CLOSE, "Close fit, no mat"),
    (Presentation.CANVAS, "Canvas in a rebate"),
    (Presentation.CANVAS_FLOAT, "Canvas floating in a tray"),
)
SIZINGS: Options = (
    (Sizing.BORDERS, "Borders; the package follows"),
    (Sizing.PACKAGE, "Package; equal borders follow"),
    (Sizing.BOTH, "Both; the window follows"),
)
UNITS: Options = ((Unit.MM, "millimetres"), (Unit.IN, "inches"))
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
WEIGHT_HINTS = {Unit.MM: "2.3 kg, 850 g", Unit.IN: "5 lb 4 oz, 12 oz"}
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


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerFields:
    """Who the quote is for, where it is not yet known."""

    finder: FieldView
    phone: FieldView
    email: FieldView

    @property
    def all(self) -> tuple[FieldView, ...]:
        """Every field of the customer."""
        return (self.finder, self.phone, self.email)


@dataclass(frozen=True, slots=True, kw_only=True)
class Who:
    """Who may be meant by what was typed of a customer. fitting: the known customers whom it fits.

    alike: the label of the only known one of a name like it, where it fits none.
    """

    fitting: tuple[Customer, ...] = ()
    alike: str | None = None

    def said(self, typed: str) -> str:
        """What a typed name was understood as; the name where it was reached by something else."""
        if len(self.fitting) != 1:
            return f"{len(self.fitting)} of this name" if self.fitting else "new customer"
        name = self.fitting[0].name
        named = typed.casefold().startswith(name.casefold())
        return "known customer" if named else f"known customer: {name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class RowFields:
    """A numbered row of the form: a material with what goes with it. shown: not folded away."""

    material: FieldView
    other: FieldView | None
    shown: bool

    @property
    def there(self) -> bool:
        """Whether the page that was posted has the row already."""
        return self.material.there

    @property
    def all(self) -> tuple[FieldView, ...]:
        """Every field of the row."""
        return (self.material,) if self.other is None else (self.material, self.other)


@dataclass(frozen=True, slots=True, kw_only=True)
class FilletFields:
    """A fillet in the window: what it is cut from, how far it is tucked, how thick it is."""

    material: FieldView
    tuck: FieldView
    depth: FieldView

    @property
    def all(self) -> tuple[FieldView, ...]:
        """Every field of the fillet."""
        return (self.material, self.tuck, self.depth)

    @property
    def unfolded(self) -> bool:
        """Whether anything is typed or wrong there."""
        return any(field.value or field.error for field in self.all)


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceFields:
    """The fields of a piece by the steps of the form. is_object: whether its artwork stands in a box."""

    title: FieldView
    size: FieldView
    unit: FieldView
    kind: FieldView
    place: FieldView
    support: FieldView
    thickness: FieldView
    is_object: bool
    weight: FieldView
    condition: FieldView
    declared_value: FieldView
    presentation: FieldView
    mats: tuple[RowFields, ...]
    sizing: FieldView
    borders: tuple[FieldView, ...]
    weighting: FieldView
    package: FieldView
    overlap: FieldView
    gap: FieldView
    fillet: FilletFields
    windows: WindowsFields
    frames: tuple[RowFields, ...]
    allowance: FieldView
    glazing: FieldView
    mount_board: FieldView
    backing: FieldView
    spacer: RowFields
    hardware: tuple[RowFields, ...]
    extras: tuple[RowFields, ...]
    discount: FieldView
    rush: FieldView

    @property
    def there(self) -> tuple[FieldView, ...]:
        """The fields that the page has: all outside of rows that grow, and rows that were posted."""
        named = (getattr(self, part.name) for part in fields(self))
        rows = (*self.mats, *self.hardware, *self.extras)
        return (
            *(field for field in named if isinstance(field, FieldView)),
            *self.borders,
            *self.fillet.all,
            *self.windows.alone,
            *(field for row in (*self.frames, self.spacer) for field in row.all),
            *(field for row in rows if row.there for field in row.all),
            *(field for row in self.windows.each if row.there for field in row.all),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of working out what was typed.

    needed: what is still to be typed, which is no fault while one types. asked: what is asked about
    sizes; all else is as if the likeliest answer were given. result, stock, used: None where something
    is wrong or needed; so_far: what can be told all the same.
    names: of materials and the like, at the fields where they were meant.
    kept_since: the day of the price, where it is the one that was agreed.
    """

    faults: tuple[Fault, ...] = ()
    needed: tuple[Fault, ...] = ()
    asked: tuple[Fault, ...] = ()
    result: PieceView | None = None
    stock: FromRack | None = None
    used: ReallyUsed | None = None
    so_far: SoFar | None = None
    names: Mapping[str, str] = field(default_factory=dict)
    offers: OffersView = OffersView(sizes=(), next_up=True)
    kept_since: date | None = None

    def unsaid(self, typed: Mapping[str, str]) -> tuple[str, ...]:
        """What is said of fields in which nothing was typed."""
        said = (*self.needed, *self.faults)
        return tuple(fault.message for fault in said if not typed.get(fault.path, "").strip())


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotePage(Page):
    """result: None while the piece cannot be worked out; faults and needed then say why, and so_far
    shows what can be told all the same.

    stock, used: what the rack has for the piece and what it really uses up, for the shop alone.

    unsaid: what of that stands at empty fields, where a live form keeps it back while one types.

    kept_since: the day of the agreed price, which stays while only the artwork is described anew.

    taken: what doubtful sizes are drawn and priced as, until their unit is said; empty where none is.

    action: where the form is posted; live: where it is worked out without being kept.
    """

    heading: str
    subheading: str
    action: str
    live: str
    save_label: str
    version: str
    unit: str
    customer: CustomerFields | None
    piece: PieceFields
    needed: tuple[Fault, ...]
    unsaid: tuple[str, ...]
    taken: str
    result: PieceView | None
    stock: FromRack | None
    used: ReallyUsed | None
    so_far: SoFarView | None
    offers: OffersView
    views: tuple[tuple[str, str, bool], ...]
    tax_word: str
    kept_since: date | None

    @property
    def fields_there(self) -> tuple[FieldView, ...]:
        """The fields that the page which was posted has."""
        return (*(self.customer.all if self.customer else ()), *self.piece.there)

    @property
    def asked_of_artwork(self) -> str:
        """What is to be said of the artwork before the piece can be weighed; empty where enough is."""
        return self.result.asked_of_artwork if self.result else ""

    def needed_at(self, path: str) -> str:
        """What is still to be typed in a field; empty where nothing is."""
        return " ".join(fault.message for fault in self.needed if fault.path == path)


def views(current: DrawingView) -> tuple[tuple[str, str, bool], ...]:
    """(value, label, current) of each view of the drawing."""
    return tuple((view.value, label, view is current) for view, label in VIEW_LABELS.items())


def customer_fields(typed: Mapping[str, str], faults: Iterable[Fault], who: Who) -> CustomerFields:
    """The fields that find or make a customer."""
    name = typed.get("customer", "").strip()
    make = Fields(
        typed, faults, {"customer": who.said(name)} if name else {}, {"customer": is_it(who.alike)}
    )
    return CustomerFields(
        finder=make.asked_about(
            "customer",
            "Customer",
            hint="Part of a name, phone or e-mail; an unknown name is a new customer.",
            required=True,
        ),
        phone=make.field("customer.phone", "Phone"),
        email=make.field("customer.email", "E-mail"),
    )


def piece_fields(
    typed: Mapping[str, str],
    faults: Iterable[Fault],
    shop: Shop,
    understood: Mapping[str, str],
    questions: Mapping[str, Question] | None = None,
) -> PieceFields:
    """The fields of the form with what was typed, understood, wrong and asked."""
    unit = unit_of(typed, shop)
    make = Fields(typed, faults, understood, questions).needing(_needed(typed))
    usual = shop.allowances_in(unit)

    def say(length: Length) -> str:
        return show(length, unit)

    mat = "mount" if shop.mat_word is MatWord.MOUNT else "mat"
    return PieceFields(
        title=make.field("artwork.title", "Title"),
        size=make.asked_about(
            "artwork.size", "Size, as said", hint=SIZE_HINTS[unit], required=None
        ),
        unit=make.field("unit", "Worked in", options=UNITS),
        kind=make.field("artwork.kind", "Kind", options=_kinds()),
        place=make.field("artwork.place", "Kept at"),
        support=make.field("artwork.support", "Made of", options=SUPPORTS),
        thickness=make.field("artwork.thickness", _thickness_word(typed)),
        is_object=is_object(typed),
        weight=make.field("artwork.weight", "Weight", hint=WEIGHT_HINTS[shop.unit]),
        condition=make.field("artwork.condition", "Condition"),
        declared_value=make.field("artwork.declared_value", "Declared value"),
        presentation=make.field("presentation", "Shown", options=PRESENTATIONS),
        mats=_mats(make, mat, say(usual.reveal)),
        sizing=make.field("sizing", "Given", options=SIZINGS),
        borders=tuple(
            make.within("Border").field(f"borders.{side}", side.capitalize(), hint=hint)
            for side, hint in (
                ("left", say(usual.border)),
                ("right", "as left"),
                ("top", "as left"),
                ("bottom", "as top"),
            )
        ),
        weighting=make.field("weighting", "More at the bottom", hint=say(usual.weighting)),
        package=make.asked_about(
            "package.size", "Package", hint=PACKAGE_HINTS[unit], required=None
        ),
        overlap=make.field("overlap", "Overlap at each edge", hint=say(usual.overlap)),
        gap=make.field("gap", "Gap at each edge", hint=say(usual.gap)),
        fillet=_fillet(make),
        windows=windows_fields(make, typed, unit),
        frames=_frames(make),
        allowance=make.field("allowance", "Allowance in all", hint=say(usual.allowance)),
        glazing=make.field("glazing.material", "Glazing"),
        mount_board=make.field("mount_board.material", "Mount board"),
        backing=make.field("backing.material", "Backing"),
        spacer=RowFields(
            material=make.field("spacer.material", "Spacers", required=None),
            other=make.within("Spacers").field("spacer.depth", "Depth", required=None),
            shown=True,
        ),
        hardware=_counted(make, "hardware", "Hardware"),
        extras=_counted(make, "extras", "Extra"),
        discount=make.field("discount", "Discount, %"),
        rush=make.field("rush", "Rush"),
    )


def _thickness_word(typed: Mapping[str, str]) -> str:
    """What lies flat has a thickness; an object stands, so it is asked how high it is (G22)."""
    return "Height of the object" if is_object(typed) else "Thickness"


def _needed(typed: Mapping[str, str]) -> tuple[str, ...]:
    """The fields that what was typed elsewhere asks for."""

    def given(*paths: str) -> bool:
        return any(typed.get(path, "").strip() for path in paths)

    shown = typed.get("presentation") or Presentation.WINDOW
    matted = shown in (Presentation.WINDOW, Presentation.FLOAT)
    canvas = shown in (Presentation.CANVAS, Presentation.CANVAS_FLOAT)
    by_package = typed.get("sizing") in (Sizing.PACKAGE, Sizing.BOTH)
    asked = {
        "artwork.size": not given("windows.0.size"),
        "mats.0.material": shown == Presentation.WINDOW
        or (matted and given(*(f"mats.{row}.material" for row in range(1, MOST_MATS)))),
        "package.size": by_package and not canvas,
        "fillet.depth": matted and given("fillet.material"),
        "fillet.material": matted and given("fillet.tuck", "fillet.depth"),
        "spacer.depth": given("spacer.material"),
        "spacer.material": given("spacer.depth"),
    }
    return tuple(path for path, needed in asked.items() if needed)


def _kinds() -> Options:
    return tuple((kind.value, kind.value.capitalize()) for kind in ArtworkKind)


def _mats(make: Fields, mat: str, usual_reveal: str) -> tuple[RowFields, ...]:
    labels = (f"Top {mat}", f"Under {mat}", f"Third {mat}")
    return _rows(
        (
            (
                make.field(f"mats.{row}.material", label, required=False if row else None),
                (
                    make.within(label).field(f"mats.{row}.reveal", "Shows", hint=usual_reveal)
                    if row
                    else None
                ),
            )
            for row, label in enumerate(labels[:MOST_MATS])
        ),
        at_least=2,
    )


def _fillet(make: Fields) -> FilletFields:
    return FilletFields(
        material=make.field("fillet.material", "Fillet in the window", required=None),
        tuck=make.within("Fillet").field("fillet.tuck", "Tuck", hint="its lip"),
        depth=make.within("Fillet").field(
            "fillet.depth", "Thickness of its lip", hint="measure it", required=None
        ),
    )


def _frames(make: Fields) -> tuple[RowFields, ...]:
    labels = ("Moulding", "Frame around it", "Outermost frame")
    return _rows(
        (
            (make.field(f"frames.{row}.material", label), None)
            for row, label in enumerate(labels[:MOST_FRAMES])
        )
    )


def _counted(make: Fields, name: str, label: str) -> tuple[RowFields, ...]:
    return _rows(
        (
            make.field(f"{name}.{row}.material", f"{label} {row + 1}"),
            make.within(f"{label} {row + 1}").field(f"{name}.{row}.count", "Count", hint="1"),
        )
        for row in range(MOST_ROWS)
    )


def _rows(
    pairs: Iterable[tuple[FieldView, FieldView | None]], at_least: int = 1
) -> tuple[RowFields, ...]:
    """Rows of which the first few are shown, all up to the last that is filled, and one to go on."""
    listed = tuple(pairs)
    filled = [
        row for row, fields in enumerate(listed) if any(each and each.value for each in fields)
    ]
    shown = max(at_least, filled[-1] + 2 if filled else 0)
    return tuple(
        RowFields(material=material, other=other, shown=row < shown)
        for row, (material, other) in enumerate(listed)
    )


def understood(typed: Mapping[str, str], shop: Shop) -> dict[str, str]:
    """What the machine read in sizes and lengths, for the fields where that is worth showing."""
    unit = unit_of(typed, shop)
    said: dict[str, str] = {}
    for path, text in typed.items():
        if not text.strip():
            continue
        with suppress(Invalid):
            if path.endswith((".size", ".slot")):
                said[path] = understood_size(text, unit)
            elif path == _WEIGHT:
                kg = parse_mass(text, bare=shop.unit, path=path)
                if mass_text(kg, shop.unit) != text.strip():
                    said[path] = usual_text(kg, shop.unit)
            elif _is_length(path):
                length = parse_length(text, unit=unit, path=path, zero_ok=True)
                if show(length, unit) != text.strip():
                    said[path] = show(length, unit, mark=True)
    return said


def _is_length(path: str) -> bool:
    return path.startswith(_LENGTHS) or is_window_length(path)


_LENGTHS = ("borders.", "overlap", "gap", "weighting", "fillet.tuck", "fillet.depth")


def names_of(chosen: Chosen, typed: Mapping[str, str]) -> dict[str, str]:
    """The name of each material that was typed by its code or a part of it, at its field.

    Mats and fillet stay typed while another way of showing the artwork has no use for them, and say so.
    """
    rows = {
        "mats": chosen.mats,
        "frames": chosen.frames,
        "hardware": tuple(taken.material for taken in chosen.hardware),
        "extras": tuple(taken.material for taken in chosen.extras),
        "glazing": (chosen.glazing,),
        "mount_board": (chosen.mount_board,),
        "backing": (chosen.backing,),
        "spacer": (chosen.spacer,),
        "fillet": (chosen.fillet,) if chosen.fillet else (),
    }
    names: dict[str, str] = {}
    for part, materials in rows.items():
        filled = [path for path in _material_fields(part) if typed.get(path, "").strip()]
        if part in ("mats", "fillet") and not materials:
            names.update(dict.fromkeys(filled, "not used here"))
        for path, material in zip(filled, materials, strict=False):
            if material and material.name.casefold() != typed[path].strip().casefold():
                names[path] = material.name
    return names


def weight_guessed(view: PieceView, typed: Mapping[str, str]) -> dict[str, str]:
    """What stands beside a blank field of the artwork's weight."""
    return {} if typed.get(_WEIGHT, "").strip() else {_WEIGHT: view.artwork_weighs}


_WEIGHT = "artwork.weight"


def names_so_far(told: SoFar) -> dict[str, str]:
    """The same of a piece with faults; nothing at the fields that are passed over."""
    names = names_of(told.chosen, told.fields)
    return {path: name for path, name in names.items() if path not in told.left_out}


@cache
def _material_fields(part: str) -> tuple[str, ...]:
    """The fields of a part's materials in their order; blank rows are skipped by whoever reads."""
    return tuple(
        path for path in PIECE_FIELDS if path.startswith(f"{part}.") and path.endswith(".material")
    )


def default_typed(shop: Shop) -> dict[str, str]:
    """What an untouched form starts with."""
    return {
        "unit": shop.unit.value,
        "presentation": Presentation.WINDOW.value,
        "sizing": Sizing.BORDERS.value,
        "artwork.kind": ArtworkKind.WATERCOLOUR.value,
    }


def tax_word(shop: Shop, *, tax_free: bool) -> str:
    """What the large price is: with tax, or without for a tax-free customer."""
    if tax_free:
        return "Price, tax-free customer"
    return "Price with tax" if any(rate.percent for rate in shop.tax_rates) else "Price"
